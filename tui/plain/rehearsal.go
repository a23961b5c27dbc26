package plain

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui/nav"
)

// played is how far the rehearsal of a simulated horse is.
type played struct {
	modes   rehearse.Modes
	skipped time.Duration // let pass without waiting, in a script
	at      exam.Key      // the place that was looked at last
	looked  bool
	heard   exam.Key // where was listened last
	zeroS   float64  // when that began, s since the opening
	listens bool
	senses  rehearsed
	sound   bool // what is heard is played
}

// Rehearse is Exam for the visit of a simulated horse: it writes what is seen, heard and felt, and asks about moments of
// danger. Errors are those of Exam.
func (s *Session) Rehearse(id exam.VisitID) error {
	if err := s.begin(id); err != nil {
		return err
	}
	s.played.modes = rehearse.ModesIn(s.raw())
	s.played.senses.total = rehearse.SensedIn(s.raw(), 0)
	s.played.sound = s.Deps.Settings.Rehearsal == soundPlayed && s.Deps.Player != nil
	s.line("%s. Everything here is invented; it is marked at the end.", nav.RehearsalSign)
	s.line("The groom: \"%s\"", s.Horse.Told())
	if len(s.visit.Context.States) == 0 && len(s.visit.Findings) == 0 { // not gone on with
		return s.stepsAfter(s.askContext())
	}
	return s.stepsAfter(nil)
}

// raw is the visit with the notes of the rehearsal itself, which the store of the
// screens leaves out.
func (s *Session) raw() exam.Visit {
	v, err := s.Deps.Rehearsals.Visit(s.visit.ID)
	if err != nil {
		return s.visit
	}
	return v
}

// comeBack reads the visit again, without the notes of the rehearsal.
func (s *Session) comeBack() error {
	v, err := s.Deps.Store.Visit(s.visit.ID)
	if err != nil {
		return err
	}
	s.visit = v
	s.line("%s.", nav.RehearsalSign)
	s.line("Type %sNAME to hand off to a veterinarian first.", handOffWords)
	return nil
}

func (s *Session) blind() bool { return s.Horse != nil && s.played.modes.Blind }

// mark stands before what a person types.
func (s *Session) mark() string {
	if s.Horse != nil {
		return "rehearsal> "
	}
	return "> "
}

// clock is the time so far, of a timed rehearsal.
func (s *Session) clock() string {
	if !s.played.modes.Timed {
		return ""
	}
	n := int(s.seconds())
	return fmt.Sprintf(", %d:%02d", n/60, n%60)
}

// seconds are those since the opening, with what a script let pass.
func (s *Session) seconds() float64 {
	return (s.Deps.Now().Sub(s.visit.OpenedAt) + s.played.skipped).Seconds()
}

// askContext asks what the horse had been doing.
func (s *Session) askContext() error {
	states := exam.States()
	words := make([]string, len(states))
	for i, state := range states {
		words[i] = state.String()
	}
	s.line("What was it doing in the last 30 minutes? Any of, with commas: %s; an empty line says that nobody asked.", strings.Join(words, ", "))
	for s.failed == nil {
		text, err := s.reply()
		if err != nil {
			return err
		}
		context, unknown := readStates(text)
		if unknown != "" {
			s.line("Not saved: %q is none of them.", notation.CleanLine(unknown, 40))
			continue
		}
		if len(context.States) == 0 {
			return nil
		}
		return s.store(exam.Entry{Kind: exam.EntryContext, Context: &context})
	}
	return s.failed
}

// readStates reads states by their beginnings; unknown is the first word that is none.
func readStates(text string) (c exam.Context, unknown string) {
	for _, part := range strings.Split(text, ",") {
		want, found := strings.ToLower(strings.TrimSpace(part)), false
		for _, state := range exam.States() {
			if want != "" && !found && state.Begins(want) {
				c.States, found = append(c.States, state), true
			}
		}
		if want != "" && !found {
			return c, want
		}
	}
	return c, ""
}

// askNext asks what is examined next, by name; false where the input ended.
func (s *Session) askNext() (int, bool) {
	s.line("Rehearsal%s. What do you examine next? A step by its name, or finish.", s.clock())
	for s.failed == nil {
		text, ok := s.read()
		if !ok || strings.EqualFold(text, "quit") {
			return 0, false
		}
		if strings.EqualFold(text, "finish") {
			return len(s.keys), true
		}
		if i, ok := s.named(text); ok {
			return i, true
		}
		s.line("No step of this routine is called %q.", notation.CleanLine(text, 40))
	}
	return 0, false
}

// named is the first open place of a step that is named by its identity or the
// beginning of its name, or its first place where none is open.
func (s *Session) named(text string) (int, bool) {
	want, found := strings.ToLower(strings.TrimSpace(text)), -1
	for i, k := range s.keys {
		step, _ := s.Deps.Steps.ByID(k.Step)
		if want == "" || (string(k.Step) != want && !strings.HasPrefix(strings.ToLower(step.Name), want) && !strings.HasPrefix(strings.ToLower(step.Short), want)) {
			continue
		}
		if _, done := s.visit.Finding(k); !done {
			return i, true
		}
		if found < 0 {
			found = i
		}
	}
	return found, found >= 0
}

// handOffWords begin the line that hands off at the end of a rehearsal.
const handOffWords = "hand off "

// handOff writes down that the findings were told to somebody.
func (s *Session) handOff(name string) error {
	to := notation.CleanLine(name, 60)
	if to == "" {
		s.line("Type the name behind hand off.")
		return nil
	}
	err := s.store(exam.Entry{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: to, How: exam.ByTelephone}})
	if err != nil {
		return err
	}
	s.line("Saved: handed off to %s by telephone.", to)
	return nil
}
