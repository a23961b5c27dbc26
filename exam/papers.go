package exam

import "slices"

// RoutinePapers is the routine of a visit in which earlier doses are written down
// from papers and nothing else is done; it asks no step.
const RoutinePapers = "papers"

// OnlyPapers says that a visit holds nothing but earlier doses, written down from
// papers: nobody looked at the horse, so that it is no visit to compare with, and
// it meets no recheck.
func (v Visit) OnlyPapers() bool {
	if v.Thinned != nil {
		return v.Thinned.Papers
	}
	others := len(v.Findings) + len(v.Notes) + len(v.HandOffs) + len(v.Decisions) + len(v.Draws) + len(v.Context.States) + len(v.Context.Medicines)
	noted := !slices.ContainsFunc(v.Injections, func(i Injection) bool { return !i.Earlier() })
	return others == 0 && noted && (len(v.Injections) > 0 || v.Routine == RoutinePapers)
}

// LookedAt returns, in their order, the visits in which somebody examined the horse: those that
// hold nothing but past doses are left out.
func LookedAt(visits []Visit) []Visit {
	return slices.DeleteFunc(slices.Clone(visits), Visit.OnlyPapers)
}
