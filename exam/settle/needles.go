package settle

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// needles names the procedures that began with some lines.
func needles(v exam.Visit, seqs []int) []string {
	var out []string
	for _, i := range v.Injections {
		if slices.Contains(seqs, i.Seq) {
			out = append(out, fmt.Sprintf("Injection %d of %s by %s", i.Number, i.Order.Product, i.By))
		}
	}
	for _, d := range v.Draws {
		if slices.Contains(seqs, d.Seq) {
			out = append(out, fmt.Sprintf("Blood draw %d by %s", d.Number, d.By))
		}
	}
	return out
}

// unaware names two procedures that did not know of each other; where not both went in, or took blood, what became of each.
func unaware(v exam.Visit, seqs []int) string {
	var states []string
	all := true
	add := func(state fmt.Stringer, went bool) { states, all = append(states, state.String()), all && went }
	for _, i := range v.Injections {
		if slices.Contains(seqs, i.Seq) {
			add(i.State, i.WentIn())
		}
	}
	for _, d := range v.Draws {
		if slices.Contains(seqs, d.Seq) {
			add(d.State, d.DrawnML() > 0 || d.NotKnown)
		}
	}
	names, said := needles(v, seqs), "Both went in, and both count."
	if !all {
		said = "What went in counts."
		for n := range names {
			names[n] += " (" + states[n] + ")"
		}
	}
	return strings.Join(names, " and ") + " did not know of each other. " + said
}

// missed names a needle and the decision that whoever held it did not have.
func missed(v exam.Visit, u exam.Unsettled, now time.Time) string {
	for _, d := range v.Decisions {
		if slices.Contains(u.Seqs, d.Seq) {
			return fmt.Sprintf("%s went in without what %s decided at %s: %s. It counts.",
				strings.Join(needles(v, u.Seqs), " and "), d.Vet, notation.Clock(d.At, now), d.Ruling)
		}
	}
	return u.Kind.String()
}

func decision(v exam.Visit, u exam.Unsettled, now time.Time) string {
	i := slices.IndexFunc(v.Decisions, func(d exam.Decided) bool { return slices.Contains(u.Seqs, d.Seq) })
	if i < 0 {
		return u.Kind.String()
	}
	d := v.Decisions[i]
	what := needles(v, u.Seqs)
	if n := len(u.Seqs) - 1 - len(what); n > 0 {
		what = append(what, notation.Counted(n, "answer"))
	}
	return fmt.Sprintf("%s decided at %s. The person who entered it did not have %s.", d.Vet, notation.Clock(d.At, now), strings.Join(what, ", "))
}
