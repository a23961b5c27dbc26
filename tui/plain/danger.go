package plain

import (
	"errors"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/needle"
)

// errBack says that somebody typed back: the question before is put again.
var errBack = errors.New("back to the question before")

// danger lists the signs of danger, and writes one down that is seen.
func (w *work) danger() error {
	all := procedure.Dangers()
	for i, d := range all {
		w.line("%d %s (%s): %s", i+1, d.Title, d.When, strings.Join(d.Seen, "; "))
		w.line("  First: %s", strings.Join(d.First, " "))
	}
	err := w.sign(all)
	if errors.Is(err, errBack) {
		w.line("Nothing is written down.")
		return nil
	}
	return err
}

// sign asks which sign is seen, what of it, and how much went in.
func (w *work) sign(all []procedure.Danger) error {
	to := needle.TargetOf(w.stand.Visit, w.from, w.number)
	d, err := w.whichSign(all, to)
	if err != nil {
		return err
	}
	seen, err := w.seenOf(d)
	if err != nil {
		return err
	}
	ml, known := 0.0, true
	if to.Asks != "" {
		if ml, known, err = w.dangerAmount(to); err != nil {
			return err
		}
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

// whichSign asks for the number of a sign; nothing else is one.
func (w *work) whichSign(all []procedure.Danger, to needle.Target) (procedure.Danger, error) {
	for {
		text, err := w.again("Which is seen? Its number (%s), or back.", to.Words)
		if err != nil {
			return procedure.Danger{}, err
		}
		if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(all) {
			return all[n-1], nil
		}
		w.line("Not understood: a number from 1 to %d.", len(all))
	}
}

// seenOf asks what is seen of a sign: letters of its lines, or words.
func (w *work) seenOf(d procedure.Danger) (string, error) {
	list := make([]string, len(d.Seen))
	for i, text := range d.Seen {
		list[i] = needle.SeenLetter(i) + " " + text
	}
	for {
		text, err := w.again("%s: what is seen? %s; letters with commas, or your own words.", d.Title, strings.Join(list, "; "))
		if err != nil {
			return "", err
		}
		seen, ok := readSeen(d, text)
		if ok {
			return seen, nil
		}
		w.line("Not understood: letters of the list with commas, or a few words.")
	}
}

// readSeen reads letters of a sign's lines, each of them once, and words.
func readSeen(d procedure.Danger, text string) (string, bool) {
	var parts []string
	marked := map[string]bool{}
	for _, part := range strings.Split(text, ",") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		if len([]rune(part)) > 2 {
			parts = append(parts, part)
			continue
		}
		i := seenAt(d, part)
		if i < 0 {
			return "", false
		}
		if !marked[d.Seen[i]] {
			marked[d.Seen[i]] = true
			parts = append(parts, d.Seen[i])
		}
	}
	return strings.Join(parts, ", "), len(parts) > 0
}

// seenAt is the line of a sign that has the letter; -1 for none.
func seenAt(d procedure.Danger, letter string) int {
	for i := range d.Seen {
		if strings.EqualFold(letter, needle.SeenLetter(i)) {
			return i
		}
	}
	return -1
}

// dangerAmount asks how much went in, or was drawn.
func (w *work) dangerAmount(to needle.Target) (ml float64, known bool, err error) {
	for {
		text, err := w.again("%s In mL, 0 for nothing, or: %s.", to.Asks, needle.NotKnown)
		if err != nil {
			return 0, false, err
		}
		if err := needle.CheckAmount(text); err == nil {
			ml, known := needle.ReadAmount(text)
			return ml, known, nil
		}
		w.line("Not taken: a number of mL, 0 for nothing, or: %s.", needle.NotKnown)
	}
}

// again reads a line of a sign of danger. A word that works at every question is
// none of its answers; back leaves the sign.
func (w *work) again(format string, args ...any) (string, error) {
	for {
		w.line(format, args...)
		text, ok := w.read()
		if !ok || w.failed != nil {
			return "", ErrLeft
		}
		switch text = strings.TrimSpace(text); strings.ToLower(text) {
		case "quit":
			return "", ErrLeft
		case "back":
			return "", errBack
		case "cautions":
			w.sayCautions()
		default:
			if text != "" && !isCommand(text) {
				return text, nil
			}
			w.line("Not understood. Type back to write nothing down.")
		}
	}
}
