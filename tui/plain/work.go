package plain

import (
	"bufio"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

// work is an injection, a blood draw or a watch line by line.
type work struct {
	*Session
	stand  needle.Stand
	from   nav.Name
	number int    // of the injection or the draw
	by     string // who does it
	lately int    // the entry of the needle that went in during this session
	vein   int    // the next of procedure.VeinQuestions
}

// plainWidth is wide enough for every caution on one line.
const plainWidth = 200

// errMoved says that a line was written beside the question, so that what comes
// next is looked up again.
var errMoved = errors.New("something was written down")

// work reads the visit for a procedure.
func (s *Session) work(id exam.VisitID, from nav.Name, number int) (*work, error) {
	if s.scan == nil {
		s.scan = bufio.NewScanner(s.In)
		s.scan.Buffer(make([]byte, 0, 4096), maxAnswer)
	}
	w := &work{Session: s, from: from, number: number}
	if err := w.look(id); err != nil {
		return nil, err
	}
	w.by = w.Person
	if w.by == "" {
		w.by = s.Deps.Person(w.stand.Visit)
	}
	h := w.stand.Horse
	w.line("%s: %s, %s.", exam.CleanLine(h.Name, 0), h.Kind, h.AgeWords(w.stand.Visit.OpenedAt))
	if len(h.Cautions) > 0 {
		w.line("Caution: %s.", exam.CleanLine(strings.Join(h.Cautions, ", "), 0))
	}
	w.line("At every question: danger for the signs of danger, cautions, quit.")
	return w, nil
}

func (w *work) look(id exam.VisitID) error {
	stand, err := needle.Look(w.Deps, id)
	if err == nil {
		w.stand = stand
	}
	return err
}

// run asks step after step until the procedure is over; a sign of danger that was
// written down meanwhile changes what comes next.
func (w *work) run(step func() (over bool, err error)) error {
	for w.failed == nil {
		over, err := step()
		switch {
		case errors.Is(err, errMoved):
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
		lines[i].Visit, lines[i].By, lines[i].At = w.stand.Visit.ID, w.by, w.Deps.Now()
	}
	stand, err := needle.Write(w.Deps, lines...)
	if stand.Visit.ID != "" {
		w.stand = stand
	}
	var refusal *exam.Refusal
	if errors.As(err, &refusal) {
		w.line("Not written down: %s.", strings.TrimSuffix(refusal.Error(), "."))
		return errMoved
	}
	return err
}

func (w *work) inject(l exam.InjectionLine) error {
	return w.write(exam.Entry{Kind: exam.EntryInjection, Injection: &l})
}

func (w *work) draws(l exam.DrawLine) error {
	return w.write(exam.Entry{Kind: exam.EntryDraw, Draw: &l})
}

// tell writes the cautions of a moment, one in full for the first time in the visit.
func (w *work) tell(m procedure.Moment) {
	told := w.Deps.Tell(w.stand.Visit.ID, procedure.At(w.stand.Visit, m))
	for _, l := range told.Lines(plainWidth) {
		w.line("Caution: %s", strings.TrimPrefix(l, "! "))
	}
}

// ask puts a question and reads one line, after the words that work everywhere.
func (w *work) ask(format string, args ...any) (string, error) {
	for {
		w.line("%s", exam.CleanNote(fmt.Sprintf(format, args...)))
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
			for _, c := range procedure.Cautions() {
				w.line("%s (%s)", strings.Join(c.Full, " "), c.Evidence)
			}
		default:
			return text, nil
		}
	}
}

// choose asks for one of a few answers, by its number or the beginning of its words.
func (w *work) choose(question string, words []string) (int, error) {
	list := make([]string, len(words))
	for i, x := range words {
		list[i] = fmt.Sprintf("%d %s", i+1, x)
	}
	for {
		text, err := w.ask("%s %s.", question, strings.Join(list, "; "))
		if err != nil {
			return 0, err
		}
		if i, ok := find(text, words); ok {
			return i, nil
		}
		w.line("Not understood: type the number of an answer, 1 to %d.", len(words))
	}
}

// find is the one answer that a text means.
func find(text string, words []string) (int, bool) {
	want := strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(want); err == nil {
		return n - 1, n >= 1 && n <= len(words)
	}
	at, hits := 0, 0
	for i, x := range words {
		if want != "" && strings.HasPrefix(strings.ToLower(x), want) {
			at, hits = i, hits+1
		}
	}
	return at, hits == 1
}

// sheet asks the fields of an order, one after the other.
func (w *work) sheet(a interface {
	Get(string) string
	Put(string, string)
}, fields []needle.Field,
) error {
	for _, f := range fields {
		if f.Off() {
			continue
		}
		if err := w.field(a.Get, a.Put, f); err != nil {
			return err
		}
	}
	return nil
}

func (w *work) field(get func(string) string, put func(string, string), f needle.Field) error {
	for {
		question, hint := f.Ask, hintOf(f, get(f.Key))
		if hint != "" {
			question += " (" + hint + ")"
		}
		if f.Choices != nil && !f.Counted {
			question += " " + listed(f.Choices) + "."
		}
		if now := get(f.Key); now != "" {
			question += " Enter alone: " + now + "."
		}
		text, err := w.ask("%s", question)
		if err != nil {
			return err
		}
		text, err = meant(f, text, get(f.Key))
		if err == nil {
			err = f.Refused(text)
		}
		if err == nil {
			put(f.Key, text)
			if after := hintOf(f, text); after != hint && after != "" {
				w.line("%s.", upper(strings.TrimSuffix(after, ".")))
			}
			return nil
		}
		w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
	}
}

// hintOf is the hint of a field on one line.
func hintOf(f needle.Field, text string) string {
	if f.Hint == nil {
		return ""
	}
	return exam.CleanNote(strings.ReplaceAll(f.Hint(text), "\n", "; "))
}

// meant is the answer that a line means for a field.
func meant(f needle.Field, text, now string) (string, error) {
	text = exam.CleanLine(text, f.Limit)
	switch {
	case text == "":
		return now, nil
	case text == "-":
		return "", nil
	case f.Choices == nil || f.Counted:
		return text, nil
	}
	words := make([]string, len(f.Choices))
	for i, c := range f.Choices {
		words[i] = c.Words
	}
	var keys []string
	for _, part := range strings.Split(text, ",") {
		i, ok := find(part, words)
		if !ok || len(keys) > 0 && !f.Many {
			return "", &exam.Refusal{Typed: text, Why: fmt.Sprintf("%q is none of: %s", exam.CleanLine(part, 40), listed(f.Choices))}
		}
		keys = append(keys, f.Choices[i].Key)
	}
	return strings.Join(keys, ","), nil
}

func listed(choices []exam.Choice) string {
	words := make([]string, len(choices))
	for i, c := range choices {
		words[i] = fmt.Sprintf("%d %s", i+1, c.Words)
	}
	return strings.Join(words, "; ")
}

// checks goes through a check list.
func (w *work) checks(points []needle.Point) ([]exam.Checked, error) {
	var out []exam.Checked
	for _, p := range points {
		c, err := w.check(p)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func (w *work) check(p needle.Point) (exam.Checked, error) {
	var words []string
	for _, a := range p.Answers {
		if !a.Ask {
			words = append(words, a.Words)
		}
	}
	list := ""
	for i, x := range words {
		list += fmt.Sprintf("%d %s; ", i+1, x)
	}
	shown := ""
	if p.Shown != "" {
		shown = strings.TrimSuffix(p.Shown, ".") + ". "
	}
	for {
		text, err := w.ask("%s. %s%sor no, and what is not in order.", p.Asks, shown, list)
		if err != nil {
			return exam.Checked{}, err
		}
		if head, rest, _ := strings.Cut(text, " "); strings.EqualFold(head, "no") && strings.TrimSpace(rest) != "" {
			return exam.Checked{Key: p.Key, Words: strings.TrimSpace(rest)}, nil
		}
		if i, ok := find(text, words); ok {
			return exam.Checked{Key: p.Key, OK: true, Words: p.Answers[i].Stored}, nil
		}
		w.line("Not understood: type the number of an answer, or no and a few words.")
	}
}

// place asks for a site; one with a warning is typed twice.
func (w *work) place(question string, choices []procedure.Choice, proposed bool) (procedure.Choice, error) {
	words := make([]string, len(choices))
	for i, c := range choices {
		last := "none in record"
		if c.Last != nil {
			last = c.Ago + ", " + c.Last.Product
		}
		words[i] = fmt.Sprintf("%s (%s)", c.Place(), last)
		if i == 0 && proposed {
			words[i] = c.Place().String() + ", proposed (" + last + ")"
		}
	}
	warned := -1
	for {
		i, err := w.choose(question, words)
		if err != nil {
			return procedure.Choice{}, err
		}
		c := choices[i]
		if c.Warning == "" || warned == i {
			w.line("%s Stand: %s For: %s Against: %s", c.Site.Find, c.Site.Stand, c.Site.For, c.Site.Against)
			return c, nil
		}
		warned = i
		w.line("Caution: %s Type %d again to take it all the same.", c.Warning, i+1)
	}
}

// needleIn asks for the needle and waits until it is in; back is another place.
func (w *work) needleIn(before string) (which string, in bool, err error) {
	hint := ""
	if before != "" {
		hint = " Enter alone: " + before + "."
	}
	if which, err = w.ask("Needle, gauge and length? %s%s", procedure.NeedleRule, hint); err != nil {
		return "", false, err
	}
	if which == "" {
		which = before
	}
	for {
		text, err := w.ask("Type in when the needle is in, or back for another place.")
		if err != nil {
			return "", false, err
		}
		switch strings.ToLower(text) {
		case "in":
			return which, true, nil
		case "back":
			return "", false, nil
		}
	}
}

// amount asks for millilitres; "not known" is an answer.
func (w *work) amount(question, offered string) (ml float64, known bool, err error) {
	if offered != "" {
		question += " Enter alone: " + offered + "."
	}
	for {
		text, err := w.ask("%s", question)
		if err != nil {
			return 0, false, err
		}
		if text == "" {
			text = offered
		}
		if err := needle.CheckAmount(text); err != nil {
			w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
			continue
		}
		ml, known := needle.ReadAmount(text)
		return ml, known, nil
	}
}

// danger lists the signs of danger, and writes one down that is seen.
func (w *work) danger() error {
	all := procedure.Dangers()
	for i, d := range all {
		w.line("%d %s (%s): %s", i+1, d.Title, d.When, strings.Join(d.Seen, "; "))
		w.line("  First: %s", strings.Join(d.First, " "))
	}
	to := needle.TargetOf(w.stand.Visit, w.from, w.number)
	text, ok := w.again("Which is seen? Its number (%s), or back.", to.Words)
	if !ok {
		return ErrLeft
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > len(all) {
		w.line("Nothing is written down.")
		return nil
	}
	d := all[n-1]
	seen, ok := w.again("%s: what is seen, in a few words?", d.Title)
	if !ok {
		return ErrLeft
	}
	if seen == "" {
		seen = d.Title
	}
	ml, known := 0.0, true
	for to.Asks != "" {
		text, ok := w.again("%s? Or: %s.", to.Asks, needle.NotKnown)
		if !ok {
			return ErrLeft
		}
		if err := needle.CheckAmount(text); err == nil {
			ml, known = needle.ReadAmount(text)
			break
		}
		w.line("Not taken: a number of mL, 0 for nothing, or: %s.", needle.NotKnown)
	}
	if err := w.write(to.Entry(d, seen, ml, known)); err != nil {
		return err
	}
	w.line("It is written down. Read this out to the veterinarian:")
	for _, l := range needle.ReadOut(w.stand, w.from, w.number, d.Title+": "+seen, w.Deps.Now()) {
		w.line("%s", exam.CleanNote(l))
	}
	return errMoved
}

func (w *work) again(format string, args ...any) (string, bool) {
	w.line(format, args...)
	text, ok := w.read()
	return strings.TrimSpace(text), ok && w.failed == nil
}

// followWords are what may be typed when the exam is done.
const followWords = "finish, hand off, decide, inject, draw, watch, after or quit"

// follows is what a line begins of all that follows an exam; nil for nothing.
func (s *Session) follows(text string) func(exam.VisitID, int) error {
	return map[string]func(exam.VisitID, int) error{
		"hand off": s.HandOff, "decide": s.Decide, "inject": s.Inject, "draw": s.Draw, "watch": s.Watch, "after": s.After,
	}[strings.ToLower(strings.TrimSpace(text))]
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
