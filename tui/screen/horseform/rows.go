package horseform

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/screen/form"
)

// rows are the lines of the form by what they hold.
type rows struct {
	by *form.Text // who writes; asked only while the machine has no person

	name, foalDue, birth, breed, colour, markings, chip, ueln, owner, address, phone, place, others, reactions *form.Text
	kind, sex, inFoal, basis, dam                                                                              *form.OneOf
	cautions                                                                                                   *form.Several
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
	o := s.Options()
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
	r.by = form.NewPerson(s.Deps.Settings.Person, form.InitialsOfEntries, o)
	r.name = form.NewText("name", h.Name, 80, form.Named("type the horse's name, or what the yard calls it"), o)
	r.kind = form.NewOneOf("kind", exam.ChoicesOf(exam.Animals()), string(h.Kind), o)
	r.sex = form.NewOneOf("sex", exam.ChoicesOf(exam.Sexes()), string(h.Sex), o)
	r.inFoal = form.NewOneOf("in foal", choices([]string{"no", "yes"}), inFoal, o)
	r.foalDue = form.NewDay("foal due", h.FoalDue, 20, false, s.checkFoalDue, o).Hint(s.foalHint)
	r.birth = form.NewDay("born", birthText(h.Birth), 40, true, s.checkBirth, o).Hint(s.birthHint)
	r.basis = form.NewOneOf("birth date from", choices(basis), h.Birth.Basis, o)
	r.dam = form.NewOneOf("dam vaccinated", damChoices(), string(h.Dam), o)
	r.breed, r.colour = line("breed", h.Breed), line("color", h.Colour)
	r.markings = line("markings", h.Markings).Hint(func(string) string { return "head first, then limbs LF RF LH RH, then the rest" })
	r.chip = form.NewText("chip", h.Chip, 40, checkChip, o).Hint(s.chipHint).Chip()
	r.ueln = form.NewText("UELN", h.UELN, 40, checkUELN, o).Hint(func(string) string {
		return "life number in the passport: 15 characters, the country first"
	})
	asked := func(string) string { return "asked for on certificates" }
	r.owner, r.place = line("owner", h.Owner), line("location", h.Place)
	r.address, r.phone = line("owner's address", h.OwnerAddress).Hint(asked), line("owner's phone", h.OwnerPhone).Hint(asked)
	r.cautions = form.NewMarks("cautions", choices(cautionWords()), set, nil, o)
	r.others = form.NewText("other cautions", strings.Join(others, ", "), 0, nil, o).Hint(func(string) string {
		return "a few words, with commas; shown on every exam screen"
	})
	r.reactions = form.NewText("reactions", strings.Join(h.Reactions, "; "), 1000, nil, o).Hint(func(string) string {
		return "earlier reactions to a product, a needle or handling; separate with semicolons"
	})
	f := form.New(s.Deps.Theme, "save this horse", "save")
	for _, row := range []form.Widget{
		r.name, r.kind, r.sex, r.inFoal, r.foalDue, r.birth, r.basis, r.dam, r.breed, r.colour, r.markings, r.chip, r.ueln,
		r.owner, r.address, r.phone, r.place, r.cautions, r.others, r.reactions,
	} {
		f.Add(row, s.hidden(row))
	}
	if s.Deps.Settings.Person == "" { // asked for when it is first needed: to save
		f.Add(r.by, nil)
	}
	s.Begin(f)
}

// hidden says when a row is passed over: what is asked of mares, of mares in foal
// and of foals only. What stands in a hidden row is not thrown away by that.
func (s *screen) hidden(row form.Widget) func() bool {
	r := &s.rows
	switch row {
	case form.Widget(r.inFoal):
		return func() bool { return !s.mare() }
	case form.Widget(r.foalDue):
		return func() bool { return !s.inFoal() }
	case form.Widget(r.dam):
		return func() bool { return !s.foal() }
	}
	return nil
}

func (s *screen) mare() bool   { return exam.Sex(s.rows.sex.Chosen()).Female() }
func (s *screen) inFoal() bool { return s.mare() && s.rows.inFoal.Chosen() == "yes" }

// foal says that what stands in the form is under a year old: the schedule asks
// of a foal whether its mare was vaccinated.
func (s *screen) foal() bool {
	b, err := exam.ReadBirth(s.rows.birth.Content(), "")
	if err != nil {
		return false
	}
	return b.Precision == exam.BornFoal || !b.At.IsZero() && b.At.AddDate(1, 0, 0).After(s.Deps.Now())
}

func damChoices() []exam.Choice {
	return []exam.Choice{
		{Key: string(exam.DamNotKnown), Words: exam.DamNotKnown.String(), Hint: "treated as not vaccinated: the foal's own doses begin earlier"},
		{Key: string(exam.DamVaccine), Words: exam.DamVaccine.String(), Hint: "vaccinated in time before foaling, by passport or veterinarian"},
		{Key: string(exam.DamUnvaccinated), Words: exam.DamUnvaccinated.String(), Hint: "the foal's own doses begin earlier"},
	}
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

func (s *screen) checkBirth(text string) error {
	b, err := exam.ReadBirth(text, "")
	if err == nil && b.At.After(s.Deps.Now()) {
		return &notation.Refusal{Typed: text, Why: "that date is in the future"}
	}
	return err
}

// checkFoalDue reads the day on which a foal is expected. A day that stands there
// from earlier may have passed: the due list then asks whether the mare foaled.
func (s *screen) checkFoalDue(text string) error {
	if text == "" || text == s.before.FoalDue || !s.inFoal() {
		return nil
	}
	_, err := notation.ReadComing(text, s.Deps.Now())
	return err
}

func (s *screen) foalHint(text string) string {
	if day, err := time.Parse(notation.DayForm, text); err == nil {
		today, _ := time.Parse(notation.DayForm, s.Deps.Now().Format(notation.DayForm)) // it was just written so
		return fmt.Sprintf("in %d days; doses before foaling count back from it", int(day.Sub(today).Hours()/24))
	}
	return "as 10 May 2026; about 340 days (320 to 370) after covering; empty if not known"
}

func (s *screen) birthHint(text string) string {
	b, err := exam.ReadBirth(text, "")
	if err != nil || text == "" {
		return "4 May 2019, May 2019, about 2019, today 03:20, 3 weeks old, 5y, foal, adult"
	}
	h := exam.Horse{Kind: exam.AnimalKind(s.rows.kind.Chosen()), Birth: b}
	age := h.AgeWords(s.Deps.Now())
	if !b.At.IsZero() {
		age = "born " + b.Show() + ": " + age
	}
	return fmt.Sprintf("%s; ranges used: %s", age, exam.ClassOf(h, s.Deps.Now()).Name)
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
	if doubt := s.doubt(text); doubt != "" {
		return doubt
	}
	return "15 digits (ISO 11784); older chips have 9 or 10 characters; read it twice"
}

// birthText writes a birth date as ReadBirth reads it.
func birthText(b exam.Birth) string {
	if b.Precision == exam.BornUnknown {
		return ""
	}
	b.Basis = ""
	return b.Show()
}
