package plain

import (
	"errors"
	"strings"

	"loosebox/exam"
	"loosebox/tui/needle"
)

// changed says why an order is refused, and asks for the veterinarian's changed
// order, which is saved as a new decision. Without one nothing goes on.
func (w *work) changed(sheet *needle.Sheet, o exam.Order, why error) error {
	w.line("Refused. %s", why)
	n, err := w.choose("What now?", []string{"the veterinarian changed the order", "fill the order in again", "leave it"})
	switch {
	case err != nil:
		return err
	case n == 1:
		return errMoved
	case n == 2:
		return why
	}
	changed := needle.NewChanged(w.stand, sheet.Cover, o)
	for _, f := range changed.Fields() {
		if err := w.field(changed.Get, changed.Put, f); err != nil {
			return err
		}
	}
	e, err := changed.Entry(w.stand.Visit.ID, w.by, w.Deps.Now())
	if err != nil {
		return err
	}
	if err := w.write(e); err != nil {
		return err
	}
	w.line("The changed order is saved.")
	cover, err := changed.Cover()
	if err == nil {
		sheet.Change(cover)
		sheet.Renew(w.stand)
	}
	return err
}

// outside asks for an injection by the veterinarian's hand or word.
func (w *work) outside() (over bool, err error) {
	o := needle.NewOutside(w.Deps, w.stand)
	o.Put(needle.GivenBy, w.by)
	for _, f := range o.Fields() {
		if f.Off() {
			continue
		}
		if err := w.field(o.Get, o.Put, f); err != nil {
			return false, err
		}
	}
	l, err := o.Line()
	var refusal *exam.Refusal
	if errors.As(err, &refusal) {
		w.line("Not taken: %s.", strings.TrimSuffix(refusal.Error(), "."))
		return false, nil
	}
	if err != nil {
		return false, err
	}
	w.by, w.number = o.Get(needle.GivenBy), l.Number
	if err := w.write(needle.Given(w.Deps, exam.Entry{}, l)...); err != nil {
		return false, err
	}
	if i, ok := w.stand.Visit.Injection(l.Number); ok {
		w.ended(i)
	}
	return true, nil
}

// other asks what really went in, where it was not what was ordered; afterwards
// says that it is remembered, not seen.
func (w *work) other(i exam.Injection, afterwards bool) error {
	answers := map[string]string{needle.Product: i.Order.Product, needle.Route: string(i.Order.Route)}
	get, put := func(key string) string { return exam.CleanLine(answers[key], 0) }, func(key, text string) { answers[key] = text }
	for _, f := range needle.SomethingElse(i.Order) {
		if err := w.field(get, put, f); err != nil {
			return err
		}
	}
	line := needle.ElseLine(i, get)
	line.Afterwards = afterwards
	return w.write(needle.Given(w.Deps, exam.Entry{}, line)...)
}
