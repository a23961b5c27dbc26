package horseform

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/screen/form"
)

// rows are the lines of the form by what they hold.
type rows struct {
	by *form.Text // who writes; asked only while the machine has no person

	name, birth, breed, colour, markings, chip, ueln, owner, place, others, reactions *form.Text
	kind, sex, inFoal, basis                                                          *form.Choice
	cautions                                                                          *form.Marks
}

// cautionWords are the handling cautions that a mark stands for; others are
// written in words.
func cautionWords() []string {
	return []string{"kicks", "bites", "strikes", "needle-shy", "head-shy", "pulls back", "rears", "crowds", "hides pain"}
}

// bases are what a birth date can rest on; papers stand above teeth.
func bases() []string { return []string{"", "papers", "passport", "teeth", "owner"} }

// build makes the form from a horse.
func (s *screen) build(h exam.Horse) {
	o := entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings}
	set, others := splitCautions(h.Cautions)
	basis := bases()
	if !slices.Contains(basis, h.Birth.Basis) {
		basis = append(basis, h.Birth.Basis)
	}
	inFoal := "no"
	if h.InFoal {
		inFoal = "yes"
	}
	if h.Sex == "" {
		h.Sex = exam.SexUnknown
	}
	line := func(label, text string) *form.Text { return form.NewText(label, text, 0, nil, o) }
	r := &s.rows
	r.by = form.NewText("by whom", s.deps.Settings.Person, 60, needsWriter, o)
	r.name = form.NewText("name", h.Name, 80, needsName, o)
	r.kind = form.NewChoice("kind", choices(texts(exam.Animals())), string(h.Kind), o)
	r.sex = form.NewChoice("sex", choices(texts(exam.Sexes())), string(h.Sex), o)
	r.inFoal = form.NewChoice("in foal", choices([]string{"no", "yes"}), inFoal, o)
	r.birth = form.NewText("born", birthText(h.Birth), 40, s.checkBirth, o).Hint(s.birthHint)
	r.basis = form.NewChoice("known from", choices(basis), h.Birth.Basis, o)
	r.breed, r.colour = line("breed", h.Breed), line("colour", h.Colour)
	r.markings = line("markings", h.Markings).Hint(func(string) string { return "head, then limbs LF RF LH RH, then the rest" })
	r.chip = form.NewText("chip", h.Chip, 40, checkChip, o).Hint(s.chipHint)
	r.ueln = form.NewText("UELN", h.UELN, 40, checkUELN, o)
	r.owner, r.place = line("owner", h.Owner), line("place", h.Place)
	r.cautions = form.NewMarks("cautions", choices(cautionWords()), set, nil, o)
	r.others = form.NewText("other cautions", strings.Join(others, ", "), 0, nil, o).Hint(func(string) string {
		return "in a few words, a comma between; shown on every screen of the exam"
	})
	r.reactions = form.NewText("reactions", strings.Join(h.Reactions, "; "), 1000, nil, o).Hint(func(string) string {
		return "noted before, to a product, a needle, a handling; a semicolon between"
	})
	s.form = form.New(s.deps.Theme, "save this horse", "save")
	notMare := func() bool { return r.sex.Chosen() != string(exam.Mare) }
	if s.deps.Settings.Person == "" {
		s.form.Add(r.by, nil)
	}
	for _, row := range []form.Row{r.name, r.kind, r.sex, r.inFoal, r.birth, r.basis, r.breed, r.colour, r.markings, r.chip, r.ueln, r.owner, r.place, r.cautions, r.others, r.reactions} {
		if row == form.Row(r.inFoal) {
			s.form.Add(row, notMare)
			continue
		}
		s.form.Add(row, nil)
	}
	s.form.Begin()
	s.loaded = true
}

func choices(keys []string) []exam.Choice {
	out := make([]exam.Choice, len(keys))
	for i, k := range keys {
		out[i] = exam.Choice{Key: k, Words: k}
		if k == "" {
			out[i].Words = "not said"
		}
	}
	return out
}

func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

func splitCautions(all []string) (marks, others []string) {
	for _, c := range all {
		if slices.Contains(cautionWords(), c) {
			marks = append(marks, c)
		} else {
			others = append(others, c)
		}
	}
	return marks, others
}

func needsName(text string) error {
	if text == "" {
		return errors.New("a horse needs a name, or what you call it in the yard")
	}
	return nil
}

func needsWriter(text string) error {
	if text == "" {
		return errors.New("every line of the record says by whom: write your name or initials")
	}
	return nil
}

func (s *screen) checkBirth(text string) error {
	b, err := exam.ReadBirth(text, "")
	if err == nil && b.At.After(s.deps.Now()) {
		return &exam.Refusal{Typed: text, Why: "that date is still to come"}
	}
	return err
}

func (s *screen) birthHint(text string) string {
	b, err := exam.ReadBirth(text, "")
	if err != nil || text == "" {
		return "2019-05-04, 2019-05, 2019, about 2019, or foal or adult; a newborn's hour as 2026-05-04 03:20"
	}
	h := exam.Horse{Kind: exam.Animal(s.rows.kind.Chosen()), Birth: b}
	return fmt.Sprintf("%s; class today: %s", h.AgeWords(s.deps.Now()), exam.ClassOf(h, s.deps.Now()).Name)
}

func checkChip(text string) error {
	_, err := exam.ReadChip(text)
	return err
}

func checkUELN(text string) error {
	_, err := exam.ReadUELN(text)
	return err
}

func (s *screen) chipHint(text string) string {
	if name, taken := s.taken(text); taken {
		return fmt.Sprintf("this chip is %s's in the record", name)
	}
	return "15 digits (ISO 11784); older chips have 9 or 10 characters; there is no check digit: read it twice"
}

// birthText writes a birth date as ReadBirth reads it.
func birthText(b exam.Birth) string {
	if b.Precision == exam.BornUnknown {
		return ""
	}
	b.Basis = ""
	return b.Show()
}
