package intake

import (
	"cmp"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// horse reads the columns that say which animal it was.
func (a *applied) horse(r sheetRow, at time.Time) exam.Horse {
	h := exam.Horse{
		Kind: a.m.horseKind, Sex: exam.SexUnknown, Birth: exam.Birth{Precision: exam.BornUnknown},
		Breed: a.cell(r, roleBreed), Colour: a.cell(r, roleColour),
		Owner: cmp.Or(a.cell(r, roleOwner), a.m.horseOwner), Place: cmp.Or(a.cell(r, rolePlace), a.m.horsePlace),
	}
	h.Name = a.name(r)
	var err error
	if text := a.cell(r, roleKind); text != "" {
		if h.Kind, err = readKind(text); err != nil {
			a.bad(r, roleKind, "%v", err)
		}
	} else if h.Kind == "" {
		a.bad(r, roleKind, "nothing says what kind of animal it is")
	}
	if text := a.cell(r, roleSex); text != "" {
		if h.Sex, err = readSex(text); err != nil {
			a.bad(r, roleSex, "%v", err)
		}
	}
	if h.Chip, err = exam.ReadChip(a.cell(r, roleChip)); err != nil {
		a.bad(r, roleChip, "%v", err)
	}
	a.birth(r, at, &h)
	return h
}

func (a *applied) name(r sheetRow) string {
	i, ok := a.at[roleName]
	if !ok {
		return ""
	}
	name := a.cell(r, roleName)
	if name == "" {
		a.bad(r, roleName, "nothing says which horse it was")
		return ""
	}
	if before := a.held[i].before; before != "" {
		name = before + " " + name
	}
	name = notation.CleanLine(name, 0)
	if whose, ok := a.m.spelled[strings.ToLower(name)]; ok {
		return whose
	}
	return name
}

func (a *applied) birth(r sheetRow, at time.Time, h *exam.Horse) {
	if text := a.cell(r, roleAge); text != "" {
		born, err := bornBy(text, at)
		if err != nil {
			a.bad(r, roleAge, "%v", err)
		}
		h.Birth = born
	}
	if text := a.cell(r, roleAgeClass); text != "" {
		switch strings.ToLower(text) {
		case "adult":
			h.Birth.Precision = exam.BornAdult
		case "foal", string(exam.BornFoal):
			h.Birth.Precision = exam.BornFoal
		default:
			a.bad(r, roleAgeClass, "%s is no age class; it is adult or under six months", ownfile.Quote(text))
		}
	}
	if text := a.cell(r, roleBirth); text != "" {
		born, err := a.born(text)
		if err != nil {
			a.bad(r, roleBirth, "%v", err)
		}
		h.Birth = born
	}
}
