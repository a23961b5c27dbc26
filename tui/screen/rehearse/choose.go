package rehearse

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/rehearse/progress"
	"loosebox/tui/screen/form"
)

// Keys of the choices that are no case, routine or visit.
const (
	anyCase    = "any"
	ownRoutine = "of the case"
	anew       = "new"
	dropMark   = "drop " // before the identity of an open rehearsal
)

// Keys of the modes.
const (
	blindMode = "blind"
	timedMode = "timed"
)

// build makes the form.
func (s *screen) build() {
	o := s.Options()
	f := form.New(s.Deps.Theme, "go to the horse", "begin")
	f.Named(func() (action, does string) {
		if s.begin != nil && strings.HasPrefix(s.begin.Chosen(), dropMark) {
			return "drop it", "drop"
		}
		return "go to the horse", "begin"
	})
	goesOn := func() bool { return s.begin != nil && s.begin.Chosen() != anew }
	if s.begin = nil; len(s.open) > 0 {
		s.begin = form.NewOneOf("begin", s.openChoices(), anew, o)
		f.Add(s.begin, nil)
		s.why = form.NewText("why", "", 80, form.Needed("say why it is dropped: it stays in the record with the reason"), o)
		f.Add(s.why, func() bool { return !strings.HasPrefix(s.begin.Chosen(), dropMark) })
	}
	by := s.play.By
	if by == "" {
		by = s.Deps.Settings.Person
	}
	s.person = form.NewPerson(by, form.InitialsOfEntries, o)
	if s.play.Set != nil { // the exam says the rest
		f.Add(s.person, goesOn)
		s.Begin(f)
		return
	}
	s.which = form.NewOneOf("case", s.caseChoices(), s.firstCase(), o)
	s.routine = form.NewOneOf("routine", s.routineChoices(), s.firstRoutine(), o)
	var set []string
	if s.play.Blind {
		set = append(set, blindMode)
	}
	if s.play.Timed {
		set = append(set, timedMode)
	}
	s.modes = form.NewMarks("mode", []exam.Choice{
		{Key: blindMode, Words: "blind: no order, no instructions"}, {Key: timedMode, Words: "timed: the clock in sight"},
	}, set, nil, o)
	s.modes.Hint = "space marks; blind asks you what comes next"
	s.seed = form.NewText("seed", s.firstSeed(), 20, checkSeed, o).Hint(func(string) string {
		return "the same case and seed give the same horse; leave it for a new one"
	})
	f.Add(s.person, goesOn)
	f.Add(s.which, goesOn)
	f.Add(s.routine, goesOn)
	f.Add(s.modes, goesOn)
	f.Add(s.seed, goesOn)
	s.Begin(f)
	switch {
	case by == "":
		f.Go(s.person)
	case s.play.Case != "":
		f.ToEnd()
	case s.begin == nil:
		f.Go(s.which)
	}
}

func checkSeed(text string) error {
	if _, err := strconv.ParseUint(text, 10, 64); err != nil {
		return errors.New("a seed is a whole number, such as 7")
	}
	return nil
}

func (s *screen) openChoices() []exam.Choice {
	out := []exam.Choice{{Key: anew, Words: "a new rehearsal"}}
	for _, u := range s.open {
		out = append(out, exam.Choice{
			Key:   string(u.visit.ID),
			Words: fmt.Sprintf("%s of %s", notation.CleanLine(u.visit.Horse.Name, 20), notation.Clock(u.visit.OpenedAt, s.Deps.Now())),
			Hint:  fmt.Sprintf("go on with it: %s, %s, by %s", u.horse.Case.Title, u.visit.Routine, notation.CleanLine(u.visit.By, 30)),
		})
	}
	for _, u := range s.open {
		out = append(out, exam.Choice{
			Key:   dropMark + string(u.visit.ID),
			Words: fmt.Sprintf("drop %s of %s", notation.CleanLine(u.visit.Horse.Name, 20), notation.Clock(u.visit.OpenedAt, s.Deps.Now())),
			Hint:  "it will not be finished: it counts nowhere, and stays in the record with its reason",
		})
	}
	return out
}

func (s *screen) caseChoices() []exam.Choice {
	out := []exam.Choice{{Key: anyCase, Words: "any", Hint: "one of them by the seed; you are not told which"}}
	for _, c := range s.cases {
		out = append(out, exam.Choice{Key: c.Name, Words: c.Title, Hint: c.About})
	}
	return out
}

func (s *screen) firstCase() string {
	if _, ok := rehearse.CaseNamed(s.cases, s.play.Case); ok {
		return s.play.Case
	}
	return anyCase
}

func (s *screen) routineChoices() []exam.Choice {
	var out []exam.Choice
	first := ""
	if d, r, ok := s.dueDrill(); ok {
		first = r.Name
		out = append(out, exam.Choice{
			Key: r.Name, Words: "due again: " + strings.TrimPrefix(r.Title, "Drill: "),
			Hint: fmt.Sprintf("wrong in %d of %s: a drill of that step with a new horse", d.Wrong, notation.Counted(d.Of, "rehearsal")),
		})
	}
	out = append(out, exam.Choice{Key: ownRoutine, Words: "that of the case", Hint: "the routine that the case is made for"})
	for _, r := range s.Deps.Routines {
		out = append(out, exam.Choice{Key: r.Name, Words: r.Title, Hint: r.About})
	}
	for _, name := range rehearse.Drills() {
		if r, ok := rehearse.Drill(name, s.Deps.Steps, s.Deps.Routines); ok && r.Name != first {
			out = append(out, exam.Choice{Key: r.Name, Words: r.Title, Hint: r.About})
		}
	}
	return out
}

// dueDrill is the drill of the step that is due before all others; false where none is due by now.
func (s *screen) dueDrill() (progress.Due, exam.Routine, bool) {
	for _, d := range s.due {
		if d.At.After(s.Deps.Now()) {
			break
		}
		if r, ok := rehearse.Drill(rehearse.DrillName(d.Step), s.Deps.Steps, s.Deps.Routines); ok {
			return d, r, true
		}
	}
	return progress.Due{}, exam.Routine{}, false
}

func (s *screen) firstRoutine() string {
	if _, ok := rehearse.Drill(s.first, s.Deps.Steps, s.Deps.Routines); ok {
		return s.first
	}
	for _, r := range s.Deps.Routines {
		if r.Name == s.first {
			return r.Name
		}
	}
	if _, r, ok := s.dueDrill(); ok && s.first == "" && s.play.Case == "" {
		return r.Name
	}
	return ownRoutine
}

// firstSeed is the one that was asked for, or six digits of the clock.
func (s *screen) firstSeed() string {
	seed := s.play.Seed
	if seed == 0 {
		seed = NewSeed(s.Deps.Now())
	}
	return strconv.FormatUint(seed, 10)
}
