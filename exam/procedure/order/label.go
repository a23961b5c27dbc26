package order

import (
	"strings"

	"loosebox/exam/gs1"
	"loosebox/exam/label"
	"loosebox/exam/notation"
)

// itemField and serialField are the lines of what only a scanned code says. They are
// in sight once they hold something.
func itemField(a Answers) Field {
	return Field{Key: Item, Label: "item number", Ask: "Item number (GTIN) of the package?", Limit: 14, Hidden: unscanned(a, Item), Check: func(text string) error {
		if notation.CleanLine(text, 0) == "" {
			return nil
		}
		_, err := label.Item(text)
		return err
	}}
}

func serialField(a Answers) Field {
	return Field{Key: Serial, Label: "serial number", Ask: "Serial number of the package?", Limit: 20, Hidden: unscanned(a, Serial)}
}

// unscanned hides a line that was empty when the form was made.
func unscanned(a Answers, key string) func() bool {
	empty := a.Get(key) == ""
	return func() bool { return empty && a.Get(key) == "" }
}

func itemOf(a Answers) string {
	item, err := label.Item(a.Get(Item))
	if err != nil { // nothing was scanned; what is wrong is refused before
		return ""
	}
	return item
}

// Scan fills in what a code says of a package: lot, expiry, item and serial number. A
// code of another item takes the place of all that was scanned before.
func (a Answers) Scan(r gs1.Interpretation) {
	if before := a.Get(Item); before != "" && r.Item() != "" && r.Item() != before {
		for _, key := range []string{Lot, Expiry, Serial} {
			a.Put(key, "")
		}
	}
	for key, text := range map[string]string{Lot: r.Lot(), Expiry: notation.Shown(r.Expiry()), Item: r.Item(), Serial: r.Serial()} {
		if text != "" {
			a.Put(key, text)
		}
	}
}

// Take fills in the words that were typed for the same item before.
func (a Answers) Take(k label.SavedProduct) {
	words := map[string]string{Product: k.Product, Active: k.Active, Strength: k.Strength, Maker: k.Maker, Against: strings.Join(k.Against, ",")}
	for key, text := range words {
		if text != "" {
			a.Put(key, text)
		}
	}
}

// against are the keys of diseases in an answer.
func (a Answers) against() []string {
	return strings.FieldsFunc(a.Get(Against), func(r rune) bool { return r == ',' })
}

// Holds says that the words that were typed before stand in the form already.
func (a Answers) Holds(k label.SavedProduct) bool {
	same := func(key, text string) bool { return text == "" || strings.EqualFold(a.Get(key), text) }
	return same(Active, k.Active) && same(Strength, k.Strength) && same(Maker, k.Maker) && same(Against, strings.Join(k.Against, ","))
}

func readableExpiry(text string) error {
	if notation.CleanLine(text, 0) == "" {
		return nil
	}
	_, err := notation.ReadExpiry(text)
	return err
}

// hintExpired says that what was given had expired: it is saved as it was.
func (o *Outside) hintExpired(text string) string {
	e, err := notation.ReadExpiry(text)
	switch {
	case err != nil:
		return "as on the label: 02/27 is the end of February 2027"
	case e.Passed(o.at.Now()):
		return "Check: it expired on " + notation.Shown(e.Last) + "; it is saved as given. Tell the veterinarian"
	}
	return "may be used up to " + notation.Shown(e.Last)
}
