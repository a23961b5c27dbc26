package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/settle"
)

// procedures writes what was decided and done after the exam.
func (p Page) procedures(w *writer) {
	v := p.Visit
	for i, h := range v.HandOffs {
		if i == 0 {
			w.heading("Handed off")
		}
		text := join(", ", "to "+h.To, h.How.String(), quoted(h.Asked), yes(h.ReadBack, "read back", "not read back"))
		w.wrap(p.clock(h.At), notation.CleanNote(text+" (by "+h.By+")"))
	}
	for i, item := range settle.OfVisit(v, p.Steps, v.OpenedAt) {
		if i == 0 {
			w.heading("To settle")
		}
		w.wrap("", item.Text)
	}
	for i, t := range v.Taken {
		if i == 0 {
			w.heading("Taken over by another laptop")
		}
		w.wrap(p.clock(t.At), notation.CleanNote(fmt.Sprintf("%s puts the needles in from here on; asked: %s", t.By, t.From)))
	}
	for i, d := range v.Decisions {
		if i == 0 {
			w.heading("Decided by the veterinarian")
		}
		w.wrap(p.clock(d.At), notation.CleanNote(p.decision(d)))
	}
	for _, part := range []struct {
		heading string
		earlier bool
	}{{"Injections", false}, {"Past doses", true}} {
		first := true
		for _, inj := range v.Injections {
			if inj.Earlier() != part.earlier {
				continue
			}
			if first {
				w.heading(part.heading)
				first = false
			}
			p.injection(w, inj)
		}
	}
	for i, d := range v.Draws {
		if i == 0 {
			w.heading("Blood draws")
		}
		p.draw(w, d)
	}
	for i, x := range v.Watches {
		if i == 0 {
			w.heading("Observed after an injection")
		}
		w.wrap(p.clock(x.At), notation.CleanNote(p.watch(x)))
	}
	for i, r := range v.Rechecks {
		if i == 0 {
			w.heading("Follow-ups")
		}
		w.wrap(r.When(r.At)+" ", notation.CleanNote(r.What+" (set "+p.clock(r.At)+"by "+r.By+")"))
	}
}

// watch is a watch with its minutes and its end, or who declined it and why.
func (p Page) watch(x exam.Watch) string {
	if x.State == exam.WatchDeclined {
		return join("; ", fmt.Sprintf("injection %d: %s", x.Injection, x.State), x.Why.String(), "by "+x.By)
	}
	text := fmt.Sprintf("injection %d, %d minutes: %s", x.Injection, x.Minutes, x.State)
	return join("; ", text, x.SignWords, x.Why.String(), "begun by "+x.By, p.ended(x.EndAt, x.EndBy))
}

// clock is the time of an entry with a space behind it, and its day where that is
// not the visit's.
func (p Page) clock(at time.Time) string {
	if at.Format(notation.DayForm) == p.Visit.OpenedAt.Format(notation.DayForm) {
		return at.Format("15:04 ")
	}
	return at.Format("2 Jan 2006 15:04 ")
}

// corrections lists every correction of some entries; all of them stay readable.
func (p Page) corrections(seqs []int) []string {
	var out []string
	for _, e := range p.Entries {
		if slices.Contains(seqs, e.Corrects) {
			out = append(out, fmt.Sprintf("entry %d corrected by entry %d, by %s at %s%s", e.Corrects, e.Seq, e.By, moment(e.At), because(exam.AmendReason(e.Reason))))
		}
	}
	return out
}

// by says which decision an order rests on: who, how and when, and in which words.
func (p Page) by(seq int) string {
	for _, d := range p.Visit.Decisions {
		if seq > 0 && d.Seq == seq {
			return fmt.Sprintf("by the decision of %s, %s, %s(entry %d): %s", d.Vet, d.How, p.clock(d.Since().At), d.Seq, quoted(d.Words))
		}
	}
	return ""
}

func (p Page) decision(d exam.Decided) string {
	covers := make([]string, len(d.Covers))
	for i, c := range d.Covers {
		covers[i] = c.Text()
	}
	what := strings.Join(covers, "; ")
	if what == "" {
		what = "everything"
	}
	until := ""
	if !d.Corrected && (d.Ruling == exam.GoAhead || d.Until != nil) {
		until = "until " + p.Visit.Holds(d).Format("2 Jan 2006 15:04")
	}
	return join("; ", fmt.Sprintf("%s, %s: %s for %s", d.Vet, d.How, d.Ruling, what), quoted(d.Words), until,
		yes(d.ReadBack, "read back", ""), yes(d.AfterClosing, "after the visit was closed", ""), "recorded by "+d.By,
		yes(d.Corrected, "no longer valid", ""), yes(d.Corrected, strings.Join(p.corrections([]int{d.Seq}), ", "), ""))
}

// checks says which points of a check list were in order, and who went through it.
func checks(list []exam.Checked, by string) string {
	var keys []string
	for _, c := range list {
		if c.OK {
			keys = append(keys, procedure.PointName(c.Key))
		}
	}
	if len(keys) == 0 {
		return ""
	}
	return "checked, " + by + ": " + strings.Join(keys, ", ")
}

// point is a point of a check list that has words, or is not in order; empty for
// any other.
func point(c exam.Checked) string {
	switch {
	case c.Key == procedure.SecondPerson && c.OK:
		return "arithmetic checked by a second person: " + c.Words.String()
	case c.Key == procedure.SecondPerson:
		return "arithmetic checked by no second person: " + c.Words.String()
	case c.OK && c.Words == "":
		return ""
	}
	return "check " + procedure.PointName(c.Key) + ": " + yes(c.OK, "in order", "not in order") + named(",", c.Words.String())
}

func (p Page) draw(w *writer, d exam.Draw) {
	label := fmt.Sprintf("%d  ", d.Number)
	indent := strings.Repeat(" ", len(label))
	row := func(text string) {
		if text != "" {
			w.wrap(indent, notation.CleanNote(text))
		}
	}
	w.wrap(label, notation.CleanNote(join(", ", "for "+d.Order.For, yes(d.Order.Official, "official sample", ""), named("drawn by", d.Order.VetDraws))))
	row(p.by(d.Order.Decision))
	row(checks(d.Checks, p.clock(d.At)+"by "+d.By))
	for _, c := range d.Checks {
		row(point(c))
	}
	for _, s := range d.Sticks {
		w.wrap(indent, notation.CleanNote(join(", ", s.At.Format("15:04:05")+" needle in: "+s.Place.String(), s.Needle, yes(s.Missed, "no blood", ""), "by "+s.By)))
	}
	for _, t := range d.Filled {
		w.wrap(indent, notation.CleanNote(join(", ", "tube "+t.Kind.String(), ml(t.ML), yes(t.Short, "not filled correctly", ""), turned(t.Inversions), named("label", t.Label))))
	}
	state := d.State.String()
	if !d.Finished() {
		state = "not finished: " + state
	}
	w.wrap(indent, notation.CleanNote(join(", ", state, ml(d.DrawnML()), d.SignWords, d.Why.String(), yes(d.NotKnown, "how much is not known", ""),
		yes(d.Afterwards, "entered afterwards", ""), p.ended(d.EndAt, d.EndBy))))
	for _, text := range p.corrections(d.Corrected) {
		row(text)
	}
}

// ended says when and by whom something ended: its day too, where that is another.
func (p Page) ended(at *time.Time, by string) string {
	if at == nil {
		return ""
	}
	day := strings.TrimSuffix(p.clock(*at), at.Format("15:04 "))
	return day + at.Format("15:04:05") + " by " + by
}

// weight is that of an order in the units of the page; empty where none is recorded.
func (p Page) weight(kg float64) string {
	if kg <= 0 {
		return ""
	}
	return p.read.Of(notation.Quantity{Value: kg, Unit: notation.Kilograms}).Text(1)
}
