package gs1

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// Identifiers that this program makes something of.
const (
	itemAI   = "01"
	insideAI = "02" // the item inside a bigger box
	lotAI    = "10"
	expiryAI = "17"
	serialAI = "21"
	hourAI   = "7003" // expiry with its hour
)

// Interpretation is one way to read a code; where separators were lost there are several.
type Interpretation struct {
	Elements []Element
	// Last is the last day of use, the zero time where the code has none; Hour is the
	// time of that day, "14:30", where the code has one.
	Last time.Time
	Hour string
}

func readingOf(list []Element, now time.Time) Interpretation {
	r := Interpretation{Elements: list}
	if text := r.Get(hourAI); text != "" {
		r.Last, _ = date(text[:6], false, now) // it was checked
		r.Hour = text[6:8] + ":" + text[8:10]
	} else if text := r.Get(expiryAI); text != "" {
		r.Last, _ = date(text, true, now)
	}
	return r
}

// Get is the value of an identifier; empty where the code has none.
func (r Interpretation) Get(ai string) string {
	for _, e := range r.Elements {
		if e.AI == ai {
			return e.Value
		}
	}
	return ""
}

// Item is the item number (GTIN), 14 digits; of a bigger box that of what is inside.
func (r Interpretation) Item() string {
	if item := r.Get(itemAI); item != "" {
		return item
	}
	return r.Get(insideAI)
}

// Lot is the lot number.
func (r Interpretation) Lot() string { return r.Get(lotAI) }

// Serial is the serial number of the package.
func (r Interpretation) Serial() string { return r.Get(serialAI) }

// Expiry is the last day of use as 2027-02-28; empty where the code has none.
func (r Interpretation) Expiry() string {
	if r.Last.IsZero() {
		return ""
	}
	return r.Last.Format(notation.DayForm)
}

// Expired says that the last day of use, or its hour, lies before a moment.
func (r Interpretation) Expired(now time.Time) bool {
	today := now.Format(notation.DayForm)
	return !r.Last.IsZero() && (r.Expiry() < today || r.Hour != "" && r.Expiry() == today && r.Hour < now.Format("15:04"))
}

// Words is the reading for a person: "item 09506000134352, lot A1, use by 28 Feb 2027".
// What has no meaning here stands with its identifier.
func (r Interpretation) Words() string {
	var parts []string
	add := func(name, text string) {
		if text != "" {
			parts = append(parts, name+" "+text)
		}
	}
	add("item", r.Item())
	add("lot", r.Lot())
	if !r.Last.IsZero() {
		add("use by", strings.TrimSpace(r.Last.Format("2 Jan 2006")+" "+r.Hour))
	}
	add("serial", r.Serial())
	for _, e := range r.Elements {
		switch e.AI {
		case itemAI, insideAI, lotAI, expiryAI, serialAI, hourAI:
		default:
			parts = append(parts, fmt.Sprintf("(%s) %s", e.AI, e.Value))
		}
	}
	return strings.Join(parts, ", ")
}

// doubts are sentences about what a person looks at before the reading is used.
func (r Interpretation) doubts(now time.Time) []string {
	var out []string
	if !r.Last.IsZero() && (r.Last.After(now.AddDate(15, 0, 0)) || r.Last.Before(now.AddDate(-10, 0, 0))) {
		out = append(out, "Is the last day of use right: "+r.Last.Format("2 January 2006")+"? Compare the label.")
	}
	if r.Item() == "" && r.Get("8006") == "" {
		out = append(out, "The code has no item number. The package may have a second code: scan that too.")
	}
	return out
}
