package plain

import (
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/needle"
)

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
