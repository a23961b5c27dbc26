package intake

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

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

// ByHorse gathers the visits of each horse, in the order in which the file first
// names them.
func ByHorse(visits []Visit) []HorseVisits {
	var out []HorseVisits
	at := map[string]int{}
	for _, v := range visits {
		key := horseKey(v.Horse)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, HorseVisits{})
		}
		out[i].Visits = append(out[i].Visits, v)
	}
	for i := range out {
		slices.SortStableFunc(out[i].Visits, func(a, b Visit) int { return a.At().Compare(b.At()) })
		out[i].Horse = out[i].Visits[len(out[i].Visits)-1].Horse
	}
	return out
}

// agree refuses rows that cannot both be of one horse, and a row that is there twice.
func (a *applied) agree(visits []Visit) {
	horses := map[string]Visit{}
	rows := map[string]int{}
	for i, v := range visits {
		text := strings.Join(a.s.rows[i].cells, "\x00")
		if line, ok := rows[text]; ok {
			a.e.Add(v.Line, "says the same as line %d in every column", line)
		}
		rows[text] = v.Line
		first, ok := horses[horseKey(v.Horse)]
		switch {
		case !ok:
			horses[horseKey(v.Horse)] = v
		case first.Horse.Kind != v.Horse.Kind:
			a.bad(a.s.rows[i], roleKind, "%s is a %s here and a %s in line %d; two horses need two names", ownfile.Quote(v.Horse.Name), v.Horse.Kind, first.Horse.Kind, first.Line)
		case first.Horse.Owner != v.Horse.Owner && first.Horse.Chip == "":
			a.bad(a.s.rows[i], roleOwner, "%s belongs to %s here and to %s in line %d; two horses need two names, or a chip number",
				ownfile.Quote(v.Horse.Name), ownfile.Quote(v.Horse.Owner), ownfile.Quote(first.Horse.Owner), first.Line)
		}
	}
}

// SameFile says that two sources name one file's bytes, whatever its name was.
func SameFile(a, b string) bool {
	return digestOf(a) != "" && digestOf(a) == digestOf(b)
}

func digestOf(source string) string {
	_, digest, ok := strings.Cut(source, "(SHA-256 ")
	if !ok || !strings.HasSuffix(digest, ")") {
		return ""
	}
	return strings.TrimSuffix(digest, ")")
}
