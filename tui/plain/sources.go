package plain

import (
	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

// sources says where the numbers of a procedure come from, as far as it is.
func (w *work) sources() []explain.Part {
	if w.asked != nil {
		return w.asked.Sources()
	}
	now := w.Deps.Now()
	switch w.from {
	case nav.Injection:
		i, _ := w.stand.Visit.Injection(w.number)
		return needle.InjectionSources(i.Order, procedure.RulesOf(w.Deps.Settings))
	case nav.Draw:
		d, _ := w.stand.Visit.Draw(w.number)
		ml := d.DrawnML()
		for _, t := range needle.TubesLeft(d) {
			ml += t.ML
		}
		before := w.stand
		before.All = needle.Without(before.All, w.stand.Visit.ID, d.Number)
		return needle.DrawSources(before, w.stand.Weight(now).Kg, ml, now)
	case nav.HandOff:
		return w.Deps.PageSources(w.stand.Judged, w.Deps.Page(w.stand.Judged, "", w.by, now))
	default:
		return append(needle.DangerSources(), needle.WatchSources()[0])
	}
}

// saySources writes them, each under its heading.
func (w *work) saySources() {
	for _, part := range w.sources() {
		w.line("%s:", part.Head)
		for _, l := range part.Lines {
			w.line("%s", l)
		}
	}
}
