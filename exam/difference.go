package exam

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Difference says how what was given differs from the veterinarian's order, in
// sentences; empty where it does not, and while nothing is given. It is for the
// veterinarian: every page reads it as a remark (Differences).
func Difference(v Visit, i Injection) string {
	if i.Earlier() || !i.Finished() || !i.WentIn() || i.Order.Without == OwnHands {
		return ""
	}
	var parts []string
	if i.GivenProduct != "" && ProductKey(i.GivenProduct) != ProductKey(i.Order.Product) {
		parts = append(parts, fmt.Sprintf("%s went in, not the ordered %s.", i.GivenProduct, i.Order.Product))
	}
	if i.GivenRoute != "" && i.GivenRoute != i.Order.Route {
		parts = append(parts, fmt.Sprintf("It went %s, not %s as ordered.", i.GivenRoute, i.Order.Route))
	}
	return strings.Join(append(parts, otherAmount(v, i)...), " ")
}

// otherAmount compares the volume that went in with the order's, and with what the
// decided dose comes to.
func otherAmount(v Visit, i Injection) []string {
	if i.NotKnown {
		return []string{fmt.Sprintf("How much went in is not known. %s was ordered.", volume(i.Order))}
	}
	want, by := i.Order.VolumeML, "were ordered"
	if ml, vet, ok := decided(v, i.Order); ok && !WithinRounding(i.Order.VolumeML, ml, roundingMark(i.Order, ml)) {
		want, by = ml, "were decided by "+vet
	}
	if want <= 0 || WithinRounding(i.GivenML, want, i.Order.MarkML) {
		return nil
	}
	more := "too much"
	if i.GivenML < want {
		more = "less"
	}
	return []string{fmt.Sprintf("%s mL went in, %s mL %s: %s mL %s.", notation.Plain(i.GivenML), notation.Plain(want), by, notation.Plain(max(i.GivenML-want, want-i.GivenML)), more)}
}

func volume(o Order) string {
	if o.VolumeML > 0 {
		return notation.Plain(o.VolumeML) + " mL"
	}
	return o.Dose
}

// roundingMark is the mark of the order's syringe; of an order that named none, as
// older ones did, the coarsest mark that rounding would take.
func roundingMark(o Order, ml float64) float64 {
	if o.MarkML > 0 {
		return o.MarkML
	}
	return ml
}

// decided is the volume that the dose of the order's decision comes to, as it
// stands after corrections; false where it comes to none.
func decided(v Visit, o Order) (ml float64, vet string, ok bool) {
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
		c, named := d.Cover(Procedure{Kind: Injecting, Product: o.Product, Route: o.Route})
		said, err := notation.ReadDose(c.Dose)
		if !named || err != nil {
			continue
		}
		if sum, err := SumOf(said, o.Strength, o.WeightKg, c.Sites); err == nil {
			return sum.ML, d.Vet, true
		}
	}
	return 0, "", false
}

// Differences are the injections of a visit that differ from the veterinarian's
// order, and those without an earlier decision that one person alone stands for
// or that were ordered aloud in an emergency, until a decision confirms them; each
// as a remark for the veterinarian.
func Differences(v Visit) []Remark {
	var out []Remark
	for _, i := range v.Injections {
		what := Difference(v, i)
		if (i.Order.Without == Emergency || i.Alone()) && !confirmed(v, i) {
			what = strings.TrimSpace(what + " It was " + i.Whose() + ". No decision confirms it yet.")
		}
		if what == "" {
			continue
		}
		out = append(out, Remark{Injection: i.Number, Level: ranges.LevelTell, Value: name(i), Why: what})
	}
	return out
}

// name is the injection for a person: "injection 2 of X".
func name(i Injection) string { return fmt.Sprintf("injection %d of %s", i.Number, i.Order.Product) }

// confirmed says that a decision was saved after an injection.
func confirmed(v Visit, i Injection) bool {
	for _, d := range v.Decisions {
		if d.Since().Seq > i.EndSeq {
			return true
		}
	}
	return false
}

func lowerFirst(text string) string { return strings.ToLower(text[:1]) + text[1:] }
