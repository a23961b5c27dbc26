package authorization

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Difference says how what was given differs from the veterinarian's order, in
// sentences; empty where it does not, and while nothing is given. It is for the
// veterinarian: every page reads it as a remark (Differences).
func Difference(v exam.Visit, i exam.Injection) string {
	if i.Earlier() || !i.Finished() || !i.WentIn() || i.Order.Without == exam.OwnHands {
		return ""
	}
	var parts []string
	if i.GivenProduct != "" && exam.ProductKey(i.GivenProduct) != exam.ProductKey(i.Order.Product) {
		parts = append(parts, fmt.Sprintf("%s was given, not the ordered %s.", i.GivenProduct, i.Order.Product))
	}
	if i.GivenRoute != "" && i.GivenRoute != i.Order.Route {
		parts = append(parts, fmt.Sprintf("The route was %s, not %s as ordered.", i.GivenRoute, i.Order.Route))
	}
	return strings.Join(append(parts, otherAmount(v, i)...), " ")
}

// otherAmount compares the volume that went in with the order's, and with what the
// decided dose comes to.
func otherAmount(v exam.Visit, i exam.Injection) []string {
	if i.NotKnown {
		return []string{fmt.Sprintf("The given amount is not known. %s was ordered.", volume(i.Order))}
	}
	want, by := i.Order.VolumeML, "was ordered"
	if ml, vet, ok := decidedVolume(v, i.Order); ok && !exam.WithinRounding(i.Order.VolumeML, ml, roundingMark(i.Order, ml)) {
		want, by = ml, "was decided by "+vet
	}
	if want <= 0 || exam.WithinRounding(i.GivenML, want, i.Order.MarkML) {
		return nil
	}
	more := "too much"
	if i.GivenML < want {
		more = "less"
	}
	return []string{fmt.Sprintf("%s mL was given, %s mL %s: %s mL %s.", notation.Plain(i.GivenML), notation.Plain(want), by, notation.Plain(max(i.GivenML-want, want-i.GivenML)), more)}
}

func volume(o exam.Order) string {
	if o.VolumeML > 0 {
		return notation.Plain(o.VolumeML) + " mL"
	}
	return o.Dose
}

// roundingMark is the mark of the order's syringe; of an order that named none, as
// older ones did, the coarsest mark that rounding would take.
func roundingMark(o exam.Order, ml float64) float64 {
	if o.MarkML > 0 {
		return o.MarkML
	}
	return ml
}

// decidedVolume is the volume that the dose of the order's decision comes to, as it
// stands after corrections; false where it comes to none.
func decidedVolume(v exam.Visit, o exam.Order) (ml float64, vet string, ok bool) {
	since := 0
	for _, d := range v.Decisions {
		if o.Decision > 0 && d.Seq == o.Decision {
			since = d.Since().Seq
		}
	}
	for _, d := range v.Decisions {
		if since == 0 || d.Corrected || d.Since().Seq != since {
			continue
		}
		c, named := d.Cover(exam.Procedure{Kind: exam.Injecting, Product: o.Product, Route: o.Route})
		said, err := notation.ReadDose(c.Dose)
		if !named || err != nil {
			continue
		}
		if sum, err := exam.SumOf(said, o.Strength, o.WeightKg, c.Sites); err == nil {
			return sum.ML, d.Vet, true
		}
	}
	return 0, "", false
}

// Differences are the injections of a visit that differ from the veterinarian's
// order, and those without an earlier decision that one person alone stands for
// or that were ordered aloud in an emergency, until a decision confirms them; each
// as a remark for the veterinarian.
func Differences(v exam.Visit) []exam.Remark {
	var out []exam.Remark
	for _, i := range v.Injections {
		what := Difference(v, i)
		if (i.Order.Without == exam.Emergency || i.Alone()) && !confirmed(v, i) {
			what = strings.TrimSpace(what + " It was " + i.Whose() + ". No decision confirms it yet.")
		}
		if beside := besides(v, i); beside != "" {
			what = strings.TrimSpace(what + " " + beside)
		}
		if what == "" {
			continue
		}
		out = append(out, exam.Remark{Injection: i.Number, Level: ranges.LevelTell, Value: name(i), Why: what})
	}
	return out
}

// besides names the injections that did not know of this one, until a decision knows of
// them or somebody says that they were looked at. One that ended with nothing in is no second dose.
func besides(v exam.Visit, i exam.Injection) string {
	var others []string
	nothingIn := func(i exam.Injection) bool { return i.Finished() && !i.WentIn() }
	for _, n := range i.Unaware {
		o := v.Injections[n-1]
		if nothingIn(i) || nothingIn(o) {
			continue
		}
		open := slices.ContainsFunc(v.Unsettled(), func(u exam.Unsettled) bool {
			return u.Kind == exam.UnsettledNeedles && slices.Contains(u.Seqs, i.Seq) && slices.Contains(u.Seqs, o.Seq)
		})
		if open {
			others = append(others, name(o)+" by "+o.By)
		}
	}
	if len(others) == 0 {
		return ""
	}
	done := "begun"
	if i.WentIn() {
		done = "given"
	}
	return fmt.Sprintf("It was %s on one laptop while another did not know: %s. What went in counts. Tell the veterinarian.", done, strings.Join(others, ", "))
}

// Beside says that injections which did not know of this one stand beside it, and nobody has settled it.
func Beside(v exam.Visit, i exam.Injection) bool { return besides(v, i) != "" }

// name is the injection for a person: "injection 2 of X".
func name(i exam.Injection) string {
	return fmt.Sprintf("injection %d of %s", i.Number, i.Order.Product)
}

// confirmed says that a decision was saved after an injection.
func confirmed(v exam.Visit, i exam.Injection) bool {
	for _, d := range v.Decisions {
		if d.Since().Seq > i.EndSeq && d.Known().Has(i.EndSeq) {
			return true
		}
	}
	return false
}

func lowerFirst(text string) string { return strings.ToLower(text[:1]) + text[1:] }
