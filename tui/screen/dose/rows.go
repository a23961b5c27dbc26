package dose

import (
	"cmp"
	"errors"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/label"
	"loosebox/exam/notation"
	"loosebox/tui/screen/form"
)

// rows are the lines of an earlier dose.
type rows struct {
	form                        *form.Form
	product, on, basis, lot, by *form.Text
	maker, expiry, item, serial *form.Text // in sight once they hold something
	against, whole, never       *form.Several
	why                         *form.Text
}

// Keys of the single marks.
const (
	whole = "whole series"
	never = "never given"
)

// newRows makes the lines, with what stands in them and who writes.
func newRows(s *screen, i exam.Injection, by string) *rows {
	o := s.Options()
	corrects := s.number > 0
	action, does := "save the past dose", "save"
	if corrects {
		action, does = "correct the dose", "correct"
	}
	r := &rows{form: form.New(s.Deps.Theme, action, does)}
	var series []string
	if i.SeriesDone {
		series = []string{whole}
	}
	r.against = form.NewMarks("against", diseases(s.schedule), i.Order.Against, nil, o)
	r.against.Hint = "space marks; nothing marked: no vaccine of the schedule"
	r.product = form.NewText("product", i.Order.Product, 0, func(text string) error {
		if text == "" && len(r.against.Set()) == 0 && len(r.never.Set()) == 0 {
			return errors.New("type the product, or what it is against")
		}
		return nil
	}, o).Hint(func(string) string {
		return "as in the passport; may stay empty if the disease is marked"
	})
	r.on = form.NewDay("on which day", i.On, 20, true, func(text string) error {
		_, err := notation.ReadDay(text, s.Deps.Now())
		return err
	}, o).Hint(func(text string) string {
		return form.PastDay(text, s.Deps.Now(), "as 4 Mar 2026, 3 weeks ago; Mar 2026 or 2026 where no more is known")
	})
	r.basis = form.NewText("from", i.Basis, 0, form.Needed("choose where it comes from: passport, papers, owner"), o).Hint(func(string) string {
		return "passport, vaccination record, owner"
	})
	r.lot = form.NewText("lot", i.Order.Lot, 0, nil, o).Hint(func(string) string { return "may stay empty; or scan the package" })
	r.maker = form.NewText("maker", i.Order.Maker, 80, nil, o)
	r.expiry = form.NewText("expiry", cmp.Or(notation.Shown(i.Order.Expiry.Typed), notation.Shown(i.Order.Expiry.Last)), 40, func(text string) error {
		if text == "" {
			return nil
		}
		_, err := notation.ReadExpiry(text)
		return err
	}, o)
	r.item = form.NewText("item number", i.Order.Item, 14, func(text string) error {
		if text == "" {
			return nil
		}
		_, err := label.Item(text)
		return err
	}, o).Hint(func(string) string { return "GTIN, from the code of the package" })
	r.serial = form.NewText("serial number", i.Order.Serial, 20, nil, o)
	r.whole = form.NewMarks("primary series", []exam.Choice{{Key: whole, Words: "the record shows the whole primary series"}}, series, nil, o)
	r.whole.Hint = "space marks it"
	r.by = form.NewPerson(by, form.InitialsOfEntries, o)
	r.never = form.NewMarks("never given", []exam.Choice{{Key: never, Words: "entered by mistake; no such dose was given"}}, nil, nil, o)
	r.never.Hint = "space marks; the dose then does not count"
	r.why = form.NewText("why corrected", "", 0, form.Needed("type why it is corrected"), o)
	r.form.With(r.product, r.against, r.on, r.basis, r.lot)
	for _, row := range []*form.Text{r.maker, r.expiry, r.item, r.serial} {
		empty := row.Content() == ""
		r.form.Add(row, func() bool { return empty })
	}
	r.form.Add(r.whole, func() bool { return len(r.against.Set()) == 0 })
	r.form.Add(r.never, func() bool { return !corrects })
	r.form.Add(r.by, nil)
	r.form.Add(r.why, func() bool { return !corrects })
	s.Begin(r.form)
	return r
}

func diseases(t *due.Table) []exam.Choice {
	var out []exam.Choice
	for _, key := range t.Diseases() {
		out = append(out, exam.Choice{Key: key, Words: t.Name(key)})
	}
	return out
}

// papers is what stands in the lines.
func (r *rows) papers() due.Papers {
	item, _ := label.Item(r.item.Content()) // it was checked, or is empty
	return due.Papers{
		Product: r.product.Content(), Lot: r.lot.Content(), Maker: r.maker.Content(), Expiry: r.expiry.Content(), Item: item, Serial: r.serial.Content(), Against: r.against.Set(), On: r.on.Content(), Basis: r.basis.Content(),
		SeriesDone: len(r.whole.Set()) > 0 && len(r.against.Set()) > 0,
	}
}
