// Package plain asks the same steps line by line: for screen readers, pipes and
// scripts. It draws nothing twice and moves no cursor.
package plain

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/desk"
	"loosebox/exam/gs1"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/report"
	"loosebox/exam/score"
	"loosebox/ranges/words"
	"loosebox/tui/nav"
)

// maxAnswer bounds one line of input, in bytes.
const maxAnswer = 64 << 10

// ErrLeft says that the input ended, or the person stopped, before the visit
// was closed. Every answer so far is stored.
var ErrLeft = errors.New("the visit stays open")

// Session is one exam line by line.
type Session struct {
	Deps *nav.Deps
	In   io.Reader
	Out  io.Writer
	// Person is who answers.
	Person string
	// Before is who worked last on an open visit, where that was somebody else: who is working now is then asked.
	Before string
	// Terminal says that a person types: a mark shows where, and counting by the
	// clock is offered.
	Terminal bool
	// Echo writes the answers read from a script behind their questions.
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

// Exam steps through the visit until it is closed, the input ends or the person
// stops; the latter two return ErrLeft.
func (s *Session) Exam(id exam.VisitID) error {
	if err := s.begin(id); err != nil {
		return err
	}
	if !s.askWho() {
		return ErrLeft
	}
	if ok, err := s.askMedicine(); err != nil || !ok {
		return leftOr(err)
	}
	s.opening()
	return s.steps()
}

// leftOr is the error, or that the visit is left open.
func leftOr(err error) error {
	if err != nil {
		return err
	}
	return ErrLeft
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
		if err != nil {
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
	s.earlier = v.Before(past)
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

// line writes one line; after a failed write nothing more is tried.
func (s *Session) line(format string, args ...any) {
	if s.failed != nil {
		return
	}
	text := fmt.Sprintf(format, args...)
	s.asks = text
	if _, err := fmt.Fprintln(s.Out, text); err != nil {
		s.failed = fmt.Errorf("write the exam: %w; every answer so far is saved", err)
	}
}

// read reads one line; false at the end of the input. Where no chip is asked, a
// chip number is told whose it is, and the question is put again.
func (s *Session) read() (string, bool) {
	for {
		text, ok := s.readLine()
		if ok && s.failed == nil && !s.codes && gs1.Is(text) {
			question := s.asked
			s.line("%s", nav.CodeWords(text, s.Deps.Now()))
			s.line("%s", question)
			continue
		}
		if !ok || s.failed != nil || s.comparing || !s.scanned(text) {
			return text, ok
		}
	}
}

func (s *Session) readLine() (string, bool) {
	if s.Terminal && s.failed == nil {
		if _, err := fmt.Fprint(s.Out, s.mark()); err != nil {
			s.failed = err
		}
	}
	s.asked = s.asks
	if !s.scan.Scan() {
		return "", false
	}
	text := notation.CleanNote(strings.ReplaceAll(s.scan.Text(), "\x1d", gs1.Parted)) // a sign without a shape is lost in cleaning
	if s.Echo {
		s.line("> %s", text)
	}
	return text, true
}

// question is the step as one line: number, name, site, how it is answered,
// what is usual, what there was last time.
func (s *Session) question(i int) string {
	k := s.keys[i]
	step, _ := s.Deps.Steps.ByID(k.Step)
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s", s.number(i), step.Name)
	if k.Site != exam.NoSite {
		fmt.Fprintf(&b, ", %s", k.Site)
	}
	fmt.Fprintf(&b, "? %s.", form(step))
	if text, ok := s.Deps.Judge.Range(s.visit.Class(), step, s.prefer(step)); ok {
		fmt.Fprintf(&b, " %s (%s).", notation.Capital(text.Line), text.Evidence)
	} else if text.Why != "" {
		fmt.Fprintf(&b, " %s", text.Why)
	}
	if f, ok := s.visit.Finding(k); ok {
		if f.Done() {
			fmt.Fprintf(&b, " Now: %s.", s.shown(step, f.Value))
		} else {
			fmt.Fprintf(&b, " Now: not done, %s.", f.NotDone)
		}
	}
	if text := score.SoFar(s.visit, k.Step); text != "" {
		fmt.Fprintf(&b, " %s.", notation.Capital(text))
	}
	if step.Caution != "" {
		fmt.Fprintf(&b, " Caution: %s", step.Caution)
	}
	return b.String()
}

// number says how far the exam is.
func (s *Session) number(i int) string {
	switch {
	case s.Horse == nil:
		return fmt.Sprintf("%d of %d. ", i+1, len(s.keys))
	case s.blind():
		return "Rehearsal" + s.clock() + ". "
	}
	return fmt.Sprintf("Rehearsal, %d of %d%s. ", i+1, len(s.keys), s.clock())
}

// shown is a value in the units of the person.
func (s *Session) shown(step exam.Step, v exam.Value) string {
	return v.As(s.Deps.Settings.Units, step).Show(step)
}

func (s *Session) prefer(step exam.Step) notation.Unit {
	return step.Prefer(s.Deps.Settings.Units)
}

// form says how a step is answered: at once, and by its parts where it has any.
func form(step exam.Step) string {
	text := whole(step)
	if list := step.Parts.List; len(list) > 0 {
		words := make([]string, len(list))
		for i, p := range list {
			words[i] = p.Words
		}
		score := step.Parts.Range()
		if step.Parts.Says != "" {
			score += " (" + step.Parts.Says + ")"
		}
		text += fmt.Sprintf(". Or all %d %ss in this order, each %s, a hyphen for one not seen: %s",
			len(list), step.Parts.Noun, score, strings.Join(words, ", "))
	}
	return text
}

func whole(step exam.Step) string {
	switch step.Kind {
	case exam.KindCount:
		return "A rate a minute, or what was counted: 11 in 15"
	case exam.KindWeight:
		return weighWords
	case exam.KindNumber:
		units := make([]string, len(step.Units))
		for i, u := range step.Units {
			units[i] = string(u)
		}
		if step.Unit == notation.Points {
			return fmt.Sprintf("A number from %s to %s", notation.FormatNumber(step.Possible.Low, 0), notation.FormatNumber(step.Possible.High, 0))
		}
		return "A number in " + strings.Join(units, " or ")
	case exam.KindTime:
		return "One to three times in seconds"
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		words := make([]string, len(step.Choices))
		for i, c := range step.Choices {
			if step.Kind == exam.KindScale {
				words[i] = notation.FormatNumber(c.Score, 1) + " " + c.Words
			} else {
				words[i] = fmt.Sprintf("%d %s", i+1, c.Words)
			}
		}
		lead := "One of"
		if step.Kind == exam.KindMarks {
			lead = "Any of, with commas"
		}
		return lead + ": " + strings.Join(words, "; ")
	case exam.KindEvent:
		return "When it was seen: a time of day (03:40) or after birth (+42 or +1:30). Or: seen, not yet"
	case exam.KindNote:
		return "Words"
	}
	return "An answer"
}

// close prints the visit's page and closes the visit when told to.
func (s *Session) close() error {
	if s.Horse != nil {
		if err := s.comeBack(); err != nil {
			return err
		}
	}
	verdict := s.Deps.Judge.Ended(s.visit, s.earlier)
	left := s.visit.Left(s.routine)
	s.page(verdict, left)
	ways := "finish or quit"
	if s.Horse == nil {
		ways = followWords
		s.line("After the exam: type hand off, decide, inject, draw or watch. Type after to see what is to do.")
	}
	if len(left) == 0 {
		s.line("Every step is answered. Type finish to close the visit, or quit to continue later.")
	} else {
		s.line("Steps to do: %d. To close, type finish and the reason (finish no time). Type quit to continue later.", len(left))
	}
	if s.Horse == nil {
		if at, err := s.Deps.Read(s.visit.ID); err == nil {
			s.line("%s", after.Locks(s.Deps.Following(at, s.Deps.Settings, s.Deps.Now())))
		}
	}
	asked := false // about a watch that is still to do
	for s.failed == nil {
		text, ok := s.read()
		if !ok {
			return ErrLeft
		}
		word, rest, _ := strings.Cut(text, " ")
		word = strings.ToLower(word)
		switch {
		case word == "quit":
			return ErrLeft
		case s.Horse != nil && strings.HasPrefix(strings.ToLower(text), handOffWords):
			if err := s.handOff(text[len(handOffWords):]); err != nil {
				return err
			}
			continue
		case s.Horse == nil && s.follows(text) != nil:
			if err := s.procedure(s.follows(text)); err != nil {
				return err
			}
			continue
		case word != "finish":
			s.line("Type %s.", ways)
			continue
		}
		reason, more := readReason(rest)
		if len(left) > 0 && reason == "" {
			s.line("A reason is needed for the steps that are not answered: %s.", words.Join(exam.Reasons()))
			continue
		}
		if _, why, todo := nav.Unwatched(s.visit); todo && !asked {
			asked = true
			s.line("%s Type watch to start or decline it, or finish again to close anyway.", why)
			continue
		}
		without, closing, err := s.askUntold(left, reason)
		if err != nil {
			return err
		}
		if closing {
			return s.closeAs(left, reason, more, without)
		}
		s.line("Type %s.", ways)
	}
	return s.failed
}

func (s *Session) page(verdict judge.Verdict, left []exam.Key) {
	entries, err := s.Deps.Store.Entries(s.visit.ID)
	if err != nil {
		s.failed = err
		return
	}
	s.line("%s", report.Text(report.Page{
		Visit: s.visit, Earlier: s.earlier, Entries: entries, Verdict: verdict, Left: left, Coverage: s.visit.Coverage(s.routine), Routine: s.routine.Title, Steps: s.Deps.Steps,
		Judge: s.Deps.Judge, Units: s.Deps.Settings.Units,
	}, 80))
}

func (s *Session) closeAs(left []exam.Key, reason exam.Reason, words, without string) error {
	end := desk.Ending{Left: left, Reason: string(reason), Words: words, Without: without}
	if s.Horse != nil && len(left) > 0 {
		end.First = []exam.Entry{rehearse.LeftEntry(len(left))}
	}
	stored, err := s.Deps.Close(s.visit.ID, end, s.Person, s.Deps.Now)
	for _, e := range stored {
		if failed := s.visit.Apply(e); err == nil {
			err = failed
		}
	}
	var refused *notation.Refusal
	switch {
	case errors.As(err, &refused):
		s.line("Not closed: %s.", strings.TrimSuffix(err.Error(), "."))
		return ErrLeft
	case err != nil:
		return err
	}
	if s.Horse == nil {
		s.line("The visit is closed. loosebox show %s prints it.", s.visit.ID)
	}
	return s.failed
}

// store writes one entry and folds it into the visit.
func (s *Session) store(e exam.Entry) error {
	e.Visit, e.By, e.At = s.visit.ID, s.Person, s.Deps.Now()
	if e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone {
		if old, ok := s.visit.Finding(exam.Key{Step: e.Step, Site: e.Site}); ok {
			e.Replace(old)
			if s.why != "" && e.Kind == exam.EntryFinding {
				e.Amend = &exam.Amendment{Why: s.why}
			}
		}
	}
	stored, err := s.Deps.Write(e)
	if err != nil {
		return err
	}
	return s.visit.Apply(stored)
}
