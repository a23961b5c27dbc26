package intake

import (
	"cmp"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// HorseExams is one horse of a sheet with the numbers of its exams, oldest first.
type HorseExams struct {
	Horse exam.Horse // as the newest of the exams has it
	Exams []int      // in Reading.Exams
}

// HorseVisits is one horse of a spreadsheet with its visits, oldest first.
type HorseVisits struct {
	Horse  exam.Horse // as the newest of the visits has it
	Visits []Visit
}

// horseKey tells the horses of a file apart: by chip, where there is one, or by name.
func horseKey(h exam.Horse) string {
	if h.Chip != "" {
		return "chip " + h.Chip
	}
	return "name " + strings.ToLower(h.Name)
}

// ByHorse gathers the exams of each horse, in the order in which the sheet first names them.
func (r *Result) ByHorse() []HorseExams {
	var out []HorseExams
	at := map[string]int{}
	for n, x := range r.Exams {
		key := horseKey(x.Horse)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, HorseExams{})
		}
		out[i].Exams = append(out[i].Exams, n)
	}
	for i := range out {
		slices.SortStableFunc(out[i].Exams, func(a, b int) int { return r.Exams[a].At.Compare(r.Exams[b].At) })
		out[i].Horse = r.Exams[out[i].Exams[len(out[i].Exams)-1]].Horse
	}
	return out
}

// ByHorse gathers the visits of each horse, in the order in which the file first
// names them.
func ByHorse(visits []Visit) []HorseVisits {
	r := Result{}
	for _, v := range visits {
		r.Exams = append(r.Exams, Exam{Line: v.Line, Horse: v.Horse, At: v.At()})
	}
	var out []HorseVisits
	for _, g := range r.ByHorse() {
		one := HorseVisits{Horse: g.Horse}
		for _, i := range g.Exams {
			one.Visits = append(one.Visits, visits[i])
		}
		out = append(out, one)
	}
	return out
}

// order puts bad rows into the order of the sheet.
func (r *Result) order() {
	slices.SortStableFunc(r.Bad, func(a, b BadRow) int { return cmp.Compare(a.Line, b.Line) })
}

// group is the first exam of each horse of a sheet.
type group struct{ horses map[string]Exam }

// agree refuses a row that cannot be of the horse that an earlier row names.
func (a *applied) agree(g *group, x Exam, row sheetRow) {
	first, ok := g.horses[horseKey(x.Horse)]
	switch {
	case !ok:
		g.horses[horseKey(x.Horse)] = x
	case first.Horse.Kind != x.Horse.Kind:
		a.bad(row, roleKind, "%s is a %s here and a %s in line %d; two horses need two names", ownfile.Quote(x.Horse.Name), x.Horse.Kind, first.Horse.Kind, first.Line)
	case !strings.EqualFold(first.Horse.Owner, x.Horse.Owner) && first.Horse.Owner != "" && x.Horse.Owner != "" && first.Horse.Chip == "":
		a.bad(row, roleOwner, "%s belongs to %s here and to %s in line %d; two horses need two names, or a chip number",
			ownfile.Quote(x.Horse.Name), ownfile.Quote(x.Horse.Owner), ownfile.Quote(first.Horse.Owner), first.Line)
	}
}
