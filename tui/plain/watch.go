package plain

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
)

// Watch is the watch of a visit that ends first, or the one after the injection
// with the number: how long it still runs, and how it ended.
func (s *Session) Watch(id exam.VisitID, number int) error {
	w, err := s.work(id, nav.Watch, number)
	if err != nil {
		return err
	}
	running := w.stand.Visit.Watching()
	for _, x := range running {
		if w.number == 0 {
			w.number = x.Injection
		}
	}
	if _, ok := w.watched(); !ok {
		return fmt.Errorf("no watch runs in this visit; one begins when an injection is given: %w", exam.ErrNotFound)
	}
	d, _ := procedure.FindDanger(procedure.Reaction)
	w.tell(procedure.AtWatch)
	w.line("Look for: %s. Any of these: type danger.", strings.Join(d.Seen, "; "))
	w.line("%s", procedure.Expected)
	return w.run(w.watching)
}

func (w *work) watched() (exam.Watch, bool) {
	for _, x := range w.stand.Visit.Watching() {
		if x.Injection == w.number {
			return x, true
		}
	}
	return exam.Watch{}, false
}

// watching is one question of a watch.
func (w *work) watching() (over bool, err error) {
	x, ok := w.watched()
	if !ok {
		w.line("The watch has ended.")
		return true, nil
	}
	left := x.Left(w.Deps.Now()).Round(time.Second)
	question := fmt.Sprintf("%s left of %d minutes, until %s. Type wait, or left and why you leave.", left, x.Minutes, x.Ends().Format("15:04"))
	if left == 0 {
		question = fmt.Sprintf("The watch is over since %s. Look at the horse once more: type quiet where nothing is seen.", x.Ends().Format("15:04"))
	}
	text, err := w.ask("%s", question)
	if err != nil {
		return false, err
	}
	word, rest, _ := strings.Cut(text, " ")
	l := exam.WatchLine{Injection: x.Injection}
	switch strings.ToLower(word) {
	case "wait":
		if w.Wait == nil || left == 0 {
			return false, nil
		}
		w.Wait(left)
		w.line("\aThe watch is over: look at the horse.")
		return false, nil
	case "quiet":
		l.Phase = exam.WatchQuiet
	case "left":
		l.Phase, l.Why = exam.WatchLeftEarly, rest
	default:
		w.line("Nothing is written down: type quiet, wait, left and why, or danger.")
		return false, nil
	}
	return false, w.write(exam.Entry{Kind: exam.EntryWatch, Watch: &l})
}
