package plain

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

// Watch is the watch of a visit that ends first, or the one after the injection
// with the number: how long it still runs, and how it ended.
func (s *Session) Watch(id exam.VisitID, number int) error {
	w, err := s.work(id, nav.Watch, number)
	if err != nil {
		return err
	}
	if len(w.stand.Visit.Watching()) == 0 {
		if i, ok := w.unwatched(); ok {
			return w.run(func() (bool, error) { return w.begin(i) })
		}
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

// unwatched is the injection after which a watch is still to do.
func (w *work) unwatched() (exam.Injection, bool) {
	for _, i := range w.stand.Visit.Unwatched() {
		if (w.number == 0 || i.Number == w.number) && !w.stand.Visit.Closed() {
			return i, true
		}
	}
	return exam.Injection{}, false
}

// begin begins a watch that is still to do, or declines it with a reason.
func (w *work) begin(i exam.Injection) (over bool, err error) {
	minutes := procedure.RulesOf(w.Deps.Settings).WatchMinutes
	offered := "the practice has set no minutes"
	if minutes > 0 {
		offered = fmt.Sprintf("begin alone: %d minutes, as the practice has set", minutes)
	}
	text, err := w.ask("Injection %d, %s, is not watched. Type begin and the minutes (%s), or x and why the horse is not watched.", i.Number, exam.CleanLine(i.Order.Product, 40), offered)
	if err != nil {
		return false, err
	}
	word, rest, _ := strings.Cut(text, " ")
	l := exam.WatchLine{Injection: i.Number, Phase: exam.WatchBegun, Minutes: minutes}
	switch strings.ToLower(word) {
	case "begin":
		if rest = strings.TrimSuffix(strings.TrimSpace(rest), " min"); rest != "" {
			if l.Minutes, err = strconv.Atoi(rest); err != nil {
				w.line("Not taken: whole minutes, from 1 to a day.")
				return false, nil
			}
		}
	case "x", "decline":
		l.Minutes, l.Phase = 0, exam.WatchDeclined
		if l.Why, err = w.because("Why is the horse not watched?", strings.TrimSpace(rest), needle.WhyDeclined()); err != nil {
			return false, err
		}
	default:
		w.line("Nothing is written down: type begin and the minutes, or x and why.")
		return false, nil
	}
	if err := w.write(exam.Entry{Kind: exam.EntryWatch, Watch: &l}); err != nil {
		return false, err
	}
	w.line("Written down: the watch is %s.", l.Phase)
	return true, nil
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
	question := fmt.Sprintf("%s left of %d minutes, until %s. Type wait, or x and why you leave.", left, x.Minutes, x.Ends().Format("15:04"))
	if left == 0 {
		question = fmt.Sprintf("The watch is over since %s. Look at the horse once more: type n or quiet where nothing is seen.", x.Ends().Format("15:04"))
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
	case "quiet", "n":
		l.Phase = exam.WatchQuiet
	case "left", "x":
		l.Phase = exam.WatchLeftEarly
		if l.Why, err = w.because("Why do you leave, and who looks at the horse now?", strings.TrimSpace(rest), needle.WhyLeft()); err != nil {
			return false, err
		}
	default:
		w.line("Nothing is written down: type n, wait, x and why, or danger.")
		return false, nil
	}
	return false, w.write(exam.Entry{Kind: exam.EntryWatch, Watch: &l})
}
