package plain

import (
	"bufio"
	"errors"
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
)

// work is a hand-off, a decision or a procedure of a visit, line by line.
type work struct {
	*Session
	at     *order.Job
	by     string // who does it
	number int    // of the entry of a decision
	page   bool   // a page is read out
	// script is the procedure that is gone through, and name its kind; nil for none.
	script script.Script
	name   script.Name
	stage  procedure.Stage // whose cautions were told last
	code   string          // of a package, that was scanned into a form
	rest   string          // what was typed behind an answer, for the next question
	backs  bool            // back goes to the question before
}

// plainWidth is wide enough for every caution on one line.
const plainWidth = 200

// work reads the visit for a procedure.
func (s *Session) work(id exam.VisitID) (*work, error) {
	if s.scan == nil {
		s.scan = bufio.NewScanner(s.In)
		s.scan.Buffer(make([]byte, 0, 4096), maxAnswer)
	}
	w := &work{Session: s, at: &order.Job{Named: true, Rules: procedure.RulesOf(s.Deps.Settings), Syringes: s.Deps.Syringes, Units: s.Deps.Settings.Units, Call: s.Deps.Settings.Call(), Now: s.Deps.Now, Waits: s.Deps.Waits}}
	var err error
	if w.at.Stand, err = order.Look(w.Deps.Desk, id); err != nil {
		return nil, err
	}
	w.here = w.at.Horse.ID
	if w.by = w.Person; w.by == "" {
		w.by = s.Deps.Person(w.at.Visit)
	}
	w.at.Person = w.by
	h := w.at.Horse
	w.line("%s: %s, %s.", notation.CleanLine(h.Name, 0), h.Kind, h.AgeWords(w.at.Visit.OpenedAt))
	if len(h.Cautions) > 0 {
		w.line("Caution: %s.", notation.CleanLine(strings.Join(h.Cautions, ", "), 0))
	}
	w.line("At every question: danger, cautions, source or quit.")
	return w, nil
}

// run asks step after step until the procedure is over; a sign of danger that was
// written down meanwhile changes what comes next.
func (w *work) run(step func() (over bool, err error)) error {
	for w.failed == nil {
		over, err := step()
		switch {
		case errors.Is(err, errMoved), errors.Is(err, errBack):
		case err != nil:
			return err
		case over:
			return w.failed
		}
	}
	return w.failed
}

// write asks the gate and writes lines; a refusal is said and asked again.
func (w *work) write(lines ...exam.Entry) error {
	for i := range lines {
		lines[i].Visit, lines[i].By, lines[i].At = w.at.Visit.ID, w.by, w.Deps.Now()
	}
	stand, err := order.Write(w.Deps.Desk, lines...)
	if stand.Visit.ID != "" {
		w.at.Stand = stand
	}
	var refusal *notation.Refusal
	if errors.As(err, &refusal) {
		w.line("Not saved: %s.", strings.TrimSuffix(refusal.Error(), "."))
		return errMoved
	}
	return err
}

// ask puts a question and reads one line, after the words that work everywhere.
func (w *work) ask(format string, args ...any) (string, error) {
	for {
		w.line("%s", notation.CleanNote(fmt.Sprintf(format, args...)))
		text, ok := w.read()
		if !ok || w.failed != nil {
			return "", ErrLeft
		}
		switch strings.ToLower(text) {
		case "quit":
			return "", ErrLeft
		case "danger":
			if err := w.danger(); err != nil {
				return "", err
			}
		case "cautions":
			w.sayCautions()
		case "source":
			w.saySources()
		case "back":
			if w.backs {
				return "", errBack
			}
			return text, nil
		default:
			return text, nil
		}
	}
}

func (w *work) sayCautions() {
	for _, c := range procedure.Cautions() {
		w.line("%s (%s)", strings.Join(c.Full, " "), c.Evidence)
	}
}

// lookEvery is how long is waited at a time: after a sleep of the laptop that much is waited too long at most.
const lookEvery = 30 * time.Second

// waits lets time pass until nothing is left of it. It ends, too, where a signal cuts every wait short.
func (w *work) waits(left func() time.Duration) {
	for range left()/lookEvery + 1 {
		w.Wait(max(min(left(), lookEvery), 0))
	}
}

// isCommand reports whether a line is a command in an injection, a draw or an observation, and so never a reason in words.
func isCommand(text string) bool {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "wait", "quiet", "begin", "decline", "left", "stop", "given", "in", "danger", "cautions", "source", "finish", "back", "quit", "help", "?", "x":
		return true
	}
	return false
}

// followWords are what may be typed when the exam is done.
const followWords = "finish, hand off, decide, inject, draw, observe, after or quit"

// follows is what a line begins of all that follows an exam; nil for nothing.
func (s *Session) follows(text string) func(exam.VisitID, int) error {
	word := strings.ToLower(strings.TrimSpace(text))
	for _, k := range script.Kinds() {
		if word != "" && (k.Command == word || string(k.Name) == word) {
			return func(id exam.VisitID, number int) error { return s.Procedure(k.Name, id, number) }
		}
	}
	return map[string]func(exam.VisitID, int) error{"hand off": s.HandOff, "decide": s.Decide, "after": s.After}[word]
}

// procedure goes through one of them, and reads the visit again.
func (s *Session) procedure(do func(exam.VisitID, int) error) error {
	if err := do(s.visit.ID, 0); errors.Is(err, exam.ErrNotFound) {
		s.line("%s", err)
	} else if err != nil {
		return err
	}
	v, err := s.Deps.Store.Visit(s.visit.ID)
	if err != nil {
		return err
	}
	s.visit = v
	s.line("Type %s.", followWords)
	return s.failed
}
