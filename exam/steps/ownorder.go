package steps

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
)

// The most columns of the name and the title of a routine.
const (
	mostName  = 40
	mostTitle = 30
)

// OwnOrder is a routine with its groups in a person's own order, under a name of its own: NAME-PERSON, or my-NAME where
// nobody's name is known. A routine that has the person's name already keeps it.
func OwnOrder(r exam.Routine, groups [][]exam.Ask, person string) exam.Routine {
	own := exam.Routine{Name: r.Name, Title: r.Title, About: r.About, Asks: slices.Concat(groups...), Own: true}
	who := plainName(person)
	switch {
	case r.Own && (who == "" || strings.HasSuffix(r.Name, "-"+who)):
	case who == "":
		own.Name, own.Title = "my-"+r.Name, ansi.Truncate("My "+strings.ToLower(r.Title), mostTitle, "")
	default:
		own.Name = strings.Trim(ansi.Truncate(r.Name+"-"+who, mostName, ""), "-")
		own.Title = ansi.Truncate(r.Title+", "+strings.TrimSpace(person), mostTitle, "")
	}
	return own
}

// plainName is a name in lower-case letters and digits joined by hyphens, as names of routines are.
func plainName(person string) string {
	words := strings.FieldsFunc(strings.ToLower(person), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	return strings.Join(words, "-")
}

// OrderCautions are sentences about an order that makes a count wrong or carries dirt; none where the order is sound. They
// are common practice; breathing from outside before handling is of GUELPH.
func OrderCautions(asks []exam.Ask, table *exam.Steps) []string {
	first := func(ids ...exam.StepID) int {
		return slices.IndexFunc(asks, func(a exam.Ask) bool { return slices.Contains(ids, a.Step) })
	}
	handled := slices.IndexFunc(asks, func(a exam.Ask) bool {
		s, ok := table.ByID(a.Step)
		return ok && !s.FromOutside && s.ID != "approach" && s.ID != "pain.signs" && s.Asked == exam.AskedOfAll
	})
	var out []string
	if met := first("approach"); met > 0 {
		out = append(out, "Meet the horse first: the approach says whether it is safe to go on.")
	}
	if breaths := first("breath.rate"); breaths >= 0 && handled >= 0 && handled < breaths {
		out = append(out, "Count breathing from outside, before the horse is handled.")
	}
	if dirty, clean := first("udder.sheath"), lastOf(asks, "eye.look", "nose.discharge", "mouth.look", "gum.colour", "gum.moisture", "gum.refill"); dirty >= 0 && dirty < clean {
		out = append(out, "Clean before dirty: head and gums come before sheath or udder.")
	}
	return out
}

func lastOf(asks []exam.Ask, ids ...exam.StepID) int {
	last := -1
	for i, a := range asks {
		if slices.Contains(ids, a.Step) {
			last = i
		}
	}
	return last
}
