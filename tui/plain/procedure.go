package plain

import (
	"errors"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/tui/theme"
)

// Inject goes through one injection of a visit; number 0 begins one, or goes on
// with the one whose needle is in. It returns an *exam.Locked where no decision
// covers it, and ErrLeft where the input ends before it is over.
func (s *Session) Inject(id exam.VisitID, number int) error {
	return s.Procedure(script.Injection, id, number)
}

// ByVet stores an injection that the veterinarian gave, or ordered aloud in an emergency, without an earlier decision. The
// number is not used. Errors are those of Inject.
func (s *Session) ByVet(id exam.VisitID, _ int) error {
	return s.Procedure(script.Injection, id, script.ByVet)
}

// Draw goes through one blood draw of a visit; numbers and errors are those of Inject.
func (s *Session) Draw(id exam.VisitID, number int) error {
	return s.Procedure(script.BloodDraw, id, number)
}

// Watch goes through the watch after the injection with the number; 0 is the watch that ends first. The error wraps
// exam.ErrNotFound where there is none, and is ErrLeft where the input ends first.
func (s *Session) Watch(id exam.VisitID, number int) error {
	return s.Procedure(script.Watch, id, number)
}

// Procedure asks the questions of one procedure of a visit, a line each. Number is that of the injection or draw; 0 begins
// one, or goes on with the open one. Errors are those of Inject; one that wraps exam.ErrNotFound where the visit has no such
// number.
func (s *Session) Procedure(name script.Name, id exam.VisitID, number int) error {
	w, err := s.work(id)
	if err != nil {
		return err
	}
	w.script = script.KindOf(name).Make(w.at, number, "")
	if number > 0 && !w.script.Begun() {
		return exam.NoSuch("this visit has no %s %d", name, number)
	}
	if err := w.play(name); err != nil || name == script.Watch {
		return err
	}
	if len(w.at.Visit.Unwatched()) > 0 {
		w.line("To do: the observation. Start or decline it: loosebox observe %s.", id)
	}
	for _, x := range w.at.Visit.Watching() {
		w.line("The observation after injection %d runs until %s: loosebox observe %s.", x.Injection, notation.Clock(x.Ends(), w.Deps.Now()), id)
	}
	return w.failed
}

// errMoved says that a line was written beside the question, so that what comes
// next is looked up again; errBack that somebody typed back.
var (
	errMoved = errors.New("something was saved")
	errBack  = errors.New("back to the question before")
)

// play puts question after question of the script until it is over.
func (w *work) play(name script.Name) error {
	sc, before, needle := w.script, w.name, w.needle
	defer func() { w.script, w.name, w.needle = sc, before, needle }()
	w.name, w.needle = name, needle || name == script.Injection || name == script.BloodDraw
	m := script.Move{}
	var q *script.Question
	for w.failed == nil {
		over, err := w.moved(&m, sc)
		switch {
		case errors.Is(err, errMoved):
			m = script.Move{}
			continue
		case err != nil || over:
			return err
		}
		if m.Say != "" {
			w.notTaken(m.Say)
		}
		if m.Next != nil {
			q = m.Next
			if over, err := w.enter(q); err != nil || over {
				return err
			}
		}
		w.script = sc
		m, err = w.put(q)
		switch {
		case errors.Is(err, errMoved):
			m = script.Move{}
		case errors.Is(err, errBack) && q.Back != nil:
			w.line("Nothing is saved.")
			m = script.Move{Next: q.Back()}
		case err != nil:
			return err
		}
	}
	return w.failed
}

// moved does what an answer leads to: it stores, waits, and looks up what comes next.
func (w *work) moved(m *script.Move, sc script.Script) (over bool, err error) {
	switch {
	case m.Fail != nil:
		return true, m.Fail
	case m.To.Kind != script.Here:
		return true, nil
	case len(m.Write) > 0:
		w.by = sc.By()
		if err := w.write(m.Write...); err != nil {
			return false, err
		}
		if m.Told != "" {
			w.line("%s", m.Told)
		}
		if m.Over {
			return true, w.failed
		}
		*m = script.Move{}
	case m.Wait != nil && w.Wait != nil:
		w.waits(m.Wait)
		w.line("%s", m.Told)
		*m = script.Move{}
	}
	if m.Next == nil && m.Say == "" {
		*m = sc.Next()
	}
	return false, nil
}

// enter says what stands above a question; over where nothing is asked there.
func (w *work) enter(q *script.Question) (over bool, err error) {
	if q.Ends != nil {
		if len(q.First) > 0 {
			w.line("%s", q.Ask)
			w.by = w.script.By()
			if err := w.write(q.First...); err != nil && !errors.Is(err, errMoved) {
				return true, err
			}
		}
		return true, q.Ends
	}
	head := q.Head
	switch {
	case q.Over && q.Ask != "":
		w.line("%s", notation.CleanNote(q.Ask))
		head = head[1:]
	case q.Ask != "":
		head = nil
	}
	for _, t := range head {
		w.sayText(t)
	}
	if q.Places != nil && q.Places.Note != "" {
		w.line("Caution: %s", q.Places.Note)
	}
	if q.Stage != "" && (q.Places != nil || q.Over || q.Stage != w.stage) {
		told := w.Deps.Tell(w.at.Visit.ID, procedure.At(w.at.Visit, q.Stage))
		for _, l := range told.Lines(plainWidth) {
			w.line("Caution: %s", strings.TrimPrefix(l, theme.Caution+" "))
		}
		w.stage = q.Stage
	}
	return q.Over, nil
}

// sayText is a line of a head as a line of text.
func (w *work) sayText(t script.Text) {
	words := notation.CleanNote(t.Words)
	if t.Lead != "" {
		words = t.Lead + ": " + words
	}
	var steps []string
	for _, s := range t.Steps {
		steps = append(steps, map[script.StepState]string{script.Done: "filled: ", script.Now: "now: ", script.Left: "to do: "}[s.State]+s.Words)
	}
	if words += strings.Join(steps, "; "); words != "" {
		w.line("%s%s", t.Mark, words)
	}
}

// put asks a question and reads the answer.
func (w *work) put(q *script.Question) (script.Move, error) {
	typed := w.rest
	w.rest, w.backs = "", q.Back != nil || q.Rail != nil
	switch {
	case q.Form != nil && q.Form.Word != "":
		return w.word(q)
	case q.Form != nil:
		return w.form(q.Form, typed)
	case q.Checks != nil:
		given, err := w.checks(q.Checks.Points)
		if err != nil {
			return script.Move{}, err
		}
		return q.Checks.Done(given), nil
	case q.Places != nil:
		return w.place(q)
	case q.Marks != nil:
		seen, err := w.marks(q)
		if err != nil {
			return script.Move{}, err
		}
		return q.Marks.Done(seen), nil
	case q.Rail != nil:
		return w.rail(q)
	}
	return w.pick(q, typed)
}

// danger goes through the signs of danger, and comes back to the question.
func (w *work) danger() error {
	if w.name == script.Danger {
		w.line("Not understood. Type back to save nothing.")
		return nil
	}
	sc, backs, entries := w.script, w.backs, w.at.Visit.Entries
	number := 0
	if sc != nil {
		number = sc.Number()
	}
	w.script = script.KindOf(script.Danger).Make(w.at, number, w.name)
	err := w.play(script.Danger)
	w.script, w.backs = sc, backs
	switch {
	case errors.Is(err, errBack):
		w.line("Nothing is saved.")
		return nil
	case err == nil && w.at.Visit.Entries > entries:
		return errMoved
	}
	return err
}
