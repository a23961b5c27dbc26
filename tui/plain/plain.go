// Package plain asks the same steps line by line, for screen readers, pipes and scripts. It only writes lines and never
// moves the cursor.
package plain

import (
	"bufio"
	"errors"
	"io"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/score"
	"loosebox/tui/nav"
)

// maxAnswer bounds one line of input, in bytes.
const maxAnswer = 64 << 10

// ErrLeft is returned where the input ended, or the person stopped, before the visit was closed. Every answer given before
// is stored.
var ErrLeft = errors.New("the visit stays open")

// errFinish is returned where the person typed finish, to go to the end of the visit.
var errFinish = errors.New("to the end of the visit")

// Session is one exam line by line.
type Session struct {
	Deps *nav.Deps
	In   io.Reader
	Out  io.Writer
	// Person is who answers.
	Person string
	// Before is who worked last on an open visit, where that was somebody else: who is working now is then asked.
	Before string
	// Terminal is true where a person types: a prompt is shown, and counting by the clock is offered.
	Terminal bool
	// Echo writes each answer read from a script after its question.
	Echo bool
	// Wait lets time pass while beats are counted by ear.
	Wait func(time.Duration)
	// Horse is the simulated horse of a rehearsal; nil with a real one.
	Horse *rehearse.Horse
	// WriteFile writes a new file, as sound FILE asks for; nil where none is written.
	WriteFile func(name string, data []byte) error

	scan    *bufio.Scanner
	visit   exam.Visit
	earlier []exam.Visit
	routine exam.Routine
	keys    []exam.Key
	failed  error  // of writing to Out
	why     string // why the answer at hand corrects the one before
	here    exam.HorseID
	asks    string // the line that was written last: the question
	asked   string // the same before an answer was read
	// comparing says that a chip number is an answer to the question.
	comparing bool
	// needle says that a needle follows, wrong that a chip was read there which is not of this horse.
	needle, wrong bool
	// codes says that the code of a package is an answer to the question.
	codes  bool
	played played
}

// command is what an answer line means beside an answer.
type command int

const (
	answered command = iota // stored
	again                   // ask the same question again
	later                   // leave it open and go on
	back
	jump
	finish
	quit
)

// Exam asks the steps of a visit until it is closed (nil), or the input ends or the person stops (ErrLeft). Other errors: the
// record cannot be read, or Out cannot be written.
func (s *Session) Exam(id exam.VisitID) error {
	if err := s.begin(id); err != nil {
		return err
	}
	if err := s.askWho(); err != nil {
		return err
	}
	return s.stepsAfter(s.askMedicine())
}

// stepsAfter goes through the steps after a question that came to an error, or to none.
func (s *Session) stepsAfter(err error) error {
	switch {
	case errors.Is(err, errFinish):
		return s.close()
	case err != nil:
		return err
	}
	s.opening()
	return s.steps()
}

func (s *Session) begin(id exam.VisitID) error {
	s.scan = bufio.NewScanner(s.In)
	s.scan.Buffer(make([]byte, 0, 4096), maxAnswer)
	return s.load(id)
}

func (s *Session) steps() error {
	i, ok := s.first()
	for ok && i < len(s.keys) && s.failed == nil {
		what, to, err := s.ask(i)
		switch {
		case errors.Is(err, errFinish):
			what = finish
		case err != nil:
			return err
		}
		switch what {
		case again:
		case answered, later:
			i, ok = s.after(i)
		case back:
			i = max(i-1, 0)
		case jump:
			i = to
		case finish:
			i = len(s.keys)
		case quit:
			return ErrLeft
		}
	}
	switch {
	case s.failed != nil:
		return s.failed
	case !ok:
		return ErrLeft
	}
	return s.close()
}

// load reads the visit, what came before it and its routine.
func (s *Session) load(id exam.VisitID) error {
	v, err := s.Deps.Store.Visit(id)
	if err != nil {
		return err
	}
	past, err := s.Deps.Store.Past(v.Horse.ID, 0)
	if err != nil {
		return err
	}
	s.visit, s.here = v, v.Horse.ID
	s.earlier = exam.ByClock(s.Deps.Now(), v.Before(past))
	for _, r := range s.Deps.Routines {
		if r.Name == v.Routine || s.routine.Name == "" {
			s.routine = r.For(v.Class(), s.Deps.Steps)
		}
	}
	for _, ask := range s.routine.Asks {
		s.keys = append(s.keys, ask.Keys()...)
	}
	return nil
}

func (s *Session) opening() {
	h := s.visit.Horse
	s.line("%s: %s, %s, class %s.", notation.CleanLine(h.Name, 0), h.Kind, h.AgeWords(s.visit.OpenedAt), s.visit.Class().Name)
	if text := exam.BegunBefore(s.visit, s.Deps.Now()); text != "" && s.Horse == nil {
		s.line("%s", text)
	}
	if len(h.Cautions) > 0 {
		s.line("Caution: %s.", notation.CleanLine(strings.Join(h.Cautions, ", "), 0))
	}
	for _, sc := range score.Surroundings(s.visit) {
		s.line("%s: %s (%s: %s).", sc.Name, sc.Words, sc.Evidence, sc.Source)
	}
	if text := score.Repeat(s.visit.Context); text != "" {
		s.line("%s", text)
	}
	if s.Horse == nil {
		s.line("%s", s.visit.Context.MedicineLine())
	}
	s.line("%s: %d steps, %d to do. Type an answer, or: usual, not done REASON, note TEXT, how, source, last, later, back. Or: to STEP, medicine ANSWER, finish, quit.",
		s.routine.Title, len(s.keys), len(s.visit.Left(s.routine)))
	if s.Horse != nil {
		s.line("Type listen SECONDS to hear. Then type the rate, 18 in 30, or taps with the times of your beats. For sound: sound on, sound off, or sound FILE.wav SECONDS.")
	}
}

// firstOpen is the first place from an index on that is open; len(keys) for none.
func (s *Session) firstOpen(from int) int {
	open := map[exam.Key]bool{}
	for _, k := range s.visit.Left(s.routine) {
		open[k] = true
	}
	for i := from; i < len(s.keys); i++ {
		if open[s.keys[i]] {
			return i
		}
	}
	return len(s.keys)
}

// first is where the exam begins; false where the input ended.
func (s *Session) first() (int, bool) {
	if s.blind() {
		return s.askNext()
	}
	return s.firstOpen(0), true
}

// after is where the exam goes on: the next open place, passing over none but
// what is answered. A blind rehearsal asks, but for the other sites of a stop.
func (s *Session) after(i int) (int, bool) {
	if next := s.firstOpen(i + 1); !s.blind() || next < len(s.keys) && next == i+1 && s.keys[next].Step == s.keys[i].Step {
		return next, true
	}
	return s.askNext()
}

// store writes one entry and folds it into the visit.
func (s *Session) store(e exam.Entry) error {
	e.Visit, e.By, e.At = s.visit.ID, s.Person, s.Deps.Now()
	if e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone {
		if old, ok := s.visit.Finding(exam.Key{Step: e.Step, Site: e.Site}); ok {
			e.Replace(old)
			if s.why != "" && e.Kind == exam.EntryFinding {
				e.Amend = &exam.Amendment{Why: exam.AmendReason(s.why)}
			}
		}
	}
	stored, err := s.Deps.Write(e)
	if err != nil {
		return err
	}
	return s.visit.Apply(stored)
}
