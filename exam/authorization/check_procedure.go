package authorization

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// clockSlack is how far a clock may be set back between two entries, as clocks
// are corrected over the network, before it is asked about.
const clockSlack = time.Minute

// CheckProcedure says why a procedure may not be entered now; nil where a decision covers it, it
// says go ahead, it has not ended, and nothing for the veterinarian came up
// after it. An injection keeps to the order: its dose and volume are those that
// were decided, and one order is one dose, unless the decision says
// how often and how far apart (DosesOf). Remarks are the judge's on the visit
// as it stands. What came first is read from the numbers of the entries, not from
// the clock. In a closed visit it must have been decided after closing, on that day.
// The error is a *Locked, a sentence with the way on, for which errors.Is(err,
// ErrRefused) holds; or a *notation.Refusal where an order lacks a part.
func CheckProcedure(v exam.Visit, remarks []exam.Remark, p exam.Procedure) error {
	_, err := Covering(v, remarks, p)
	return err
}

// Covering returns the decision that covers the procedure, with the error of CheckProcedure.
func Covering(v exam.Visit, remarks []exam.Remark, p exam.Procedure) (exam.Decided, error) {
	d, ok := newestFor(v, p)
	if err := closes(v, d, p.At); err != nil {
		return d, err
	}
	switch {
	case !ok && len(v.Decisions) == 0 && len(v.HandOffs) > 0:
		return d, exam.Lock("The veterinarian has not decided yet. Save the decision; it unlocks the %s.", p.Kind)
	case !ok && len(v.Decisions) == 0:
		return d, exam.Lock("The veterinarian has not decided yet. Hand off, then save the decision: it unlocks the %s.", p.Kind)
	case !ok:
		return d, exam.Lock("No decision covers %s. Decided so far: %s. Ask the veterinarian and save the decision.", what(p), covered(v))
	case d.Ruling != exam.GoAhead:
		return d, exam.Lock("%s said %s: \"%s\". A new decision of the veterinarian unlocks it.", d.Vet, d.Ruling, d.Words)
	case p.At.Before(d.At.Add(-clockSlack)):
		return d, exam.Lock("The clock says %s, but the decision was saved at %s: the clock was set back. Correct the clock, or save the decision again.",
			notation.ShownAt(p.At, p.At), notation.ShownAt(d.At, p.At))
	case p.At.After(d.Ends()):
		return d, exam.Lock("The decision of %s by %s was valid until %s. Ask again and save the new decision.",
			notation.ShownAt(d.Since().At, p.At), d.Vet, notation.ShownAt(d.Ends(), p.At))
	}
	if other, ok := otherwise(v, d, p); ok {
		return d, exam.Lock("%s said %s: \"%s\". The go-ahead of %s did not include this. Ask again and save the new decision.",
			other.Vet, other.Ruling, other.Words, notation.Clock(d.Since().At, p.At))
	}
	if text, news := News(v, remarks, d.Known()); news {
		return d, exam.Lock("After the decision of %s there is something new for the veterinarian: %s. Tell the veterinarian and save the new decision.",
			notation.Clock(d.Since().At, p.At), text)
	}
	return d, limits(v, d, p)
}

// limits holds an injection to the order that was decided.
func limits(v exam.Visit, d exam.Decided, p exam.Procedure) error {
	c, named := d.Cover(p)
	if p.Kind != exam.Injecting || !named || p.Product == "" {
		return nil
	}
	if err := DosesOf(v, d, c, p.Number).locks(d.Vet, c, p.At); err != nil {
		return err
	}
	if p.Order == nil {
		return nil
	}
	return keeps(c, *p.Order, d.Vet)
}

// newestFor is the last decision that speaks of the procedure.
func newestFor(v exam.Visit, p exam.Procedure) (exam.Decided, bool) {
	var newest exam.Decided
	for _, d := range v.Decisions {
		if !d.Corrected && d.Concerns(p) && d.Since().Seq >= newest.Since().Seq {
			newest = d
		}
	}
	return newest, newest.Seq > 0
}

// otherwise finds a decision against the procedure that whoever wrote down a go-ahead did
// not have: it was made on another laptop.
func otherwise(v exam.Visit, d exam.Decided, p exam.Procedure) (exam.Decided, bool) {
	i := slices.IndexFunc(v.Decisions, func(o exam.Decided) bool {
		return !o.Corrected && o.Ruling != exam.GoAhead && o.Concerns(p) && slices.Contains(d.Without, o.Seq)
	})
	if i < 0 {
		return exam.Decided{}, false
	}
	return v.Decisions[i], true
}

func what(p exam.Procedure) string {
	article := "a "
	if p.Kind == exam.Injecting {
		article = "an "
	}
	return article + exam.CoveredProcedure{Kind: p.Kind, Product: p.Product, Route: p.Route}.String()
}

func covered(v exam.Visit) string {
	var parts []string
	for _, d := range v.Decisions {
		if d.Corrected {
			continue
		}
		for _, c := range d.Covers {
			parts = append(parts, d.Ruling.String()+" for "+c.String())
		}
		if len(d.Covers) == 0 {
			parts = append(parts, d.Ruling.String()+" for everything")
		}
	}
	return strings.Join(parts, "; ")
}

// News finds what the veterinarian cannot have known, in words, where this is what the
// veterinarian knows of the visit: a finding at the level tell the vet, a combination that
// a later finding belongs to, a sign of danger, a needle on another laptop. Remarks are
// the judge's on the visit as it stands.
func News(v exam.Visit, remarks []exam.Remark, known ...exam.Known) (string, bool) {
	for _, r := range remarks {
		if r.Level < ranges.LevelTell {
			continue
		}
		places := r.Of
		if !r.Combination {
			places = []exam.Key{{Step: r.Step, Site: r.Site}}
		}
		if unknownAnswer(v, known, places) {
			text := r.Why
			if r.Value != "" && !strings.HasPrefix(text, r.Value) {
				text = r.Value + ", " + text
			}
			return strings.TrimSuffix(strings.TrimSpace(text), "."), true
		}
	}
	return unknownDanger(v, known)
}

// unknownAnswer says that an answer at one of the places is not known; where no place is
// given, that any is not.
func unknownAnswer(v exam.Visit, known []exam.Known, places []exam.Key) bool {
	for _, f := range v.Findings {
		if len(places) > 0 && !slices.Contains(places, f.Key()) {
			continue
		}
		for _, s := range f.Standing() {
			if !exam.AnyHas(known, s.Seq) {
				return true
			}
		}
	}
	return false
}

// unknownDanger finds a sign of danger in a procedure that is not known, and a needle of
// which whoever decided did not know although it came before.
func unknownDanger(v exam.Visit, known []exam.Known) (string, bool) {
	for _, i := range v.Injections {
		if text := Difference(v, i); text != "" && !exam.AnyHas(known, i.EndSeq) {
			return "injection " + strconv.Itoa(i.Number) + ", " + strings.TrimSuffix(lowerFirst(text), "."), true
		}
		if i.Sign != "" && !exam.AnyHas(known, i.EndSeq) {
			return "the injection of " + i.Order.Product + " was stopped: " + i.SignWords, true
		}
		if i.WentIn() && missed(known, i.Seq) {
			return "injection " + strconv.Itoa(i.Number) + " of " + i.Order.Product + " was given on another laptop", true
		}
	}
	for _, d := range v.Draws {
		if d.Sign != "" && !exam.AnyHas(known, d.EndSeq) {
			return "the blood draw was stopped: " + d.SignWords, true
		}
	}
	for _, w := range v.Watches {
		if w.State == exam.WatchReaction && !exam.AnyHas(known, w.EndSeq) {
			return "a reaction in the observation after an injection: " + w.SignWords, true
		}
	}
	return "", false
}

// missed says that nobody knows of a line although it stood there before what they know.
func missed(known []exam.Known, seq int) bool {
	return !exam.AnyHas(known, seq) && slices.ContainsFunc(known, func(k exam.Known) bool { return seq < k.To })
}
