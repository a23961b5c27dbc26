package plain

import (
	"slices"
	"strings"

	"loosebox/exam/procedure/script"
)

// marks asks what is seen: letters of lines with commas, or words.
func (w *work) marks(q *script.Question) (string, error) {
	lines := q.Marks.Lines
	list := make([]string, len(lines))
	for i, text := range lines {
		list[i] = script.SeenLetter(i) + " " + text
	}
	for {
		text, err := w.ask("%s %s; letters with commas, or your own words.", q.Ask, strings.Join(list, "; "))
		if err != nil {
			return "", err
		}
		if seen, ok := readSeen(lines, text); ok {
			return seen, nil
		}
		w.line("Not understood: letters of the list with commas, or a few words. Type back to save nothing.")
	}
}

// readSeen reads letters of lines, each of them once, and words.
func readSeen(lines []string, text string) (string, bool) {
	var parts []string
	for _, part := range strings.Split(text, ",") {
		switch part = strings.TrimSpace(part); {
		case part == "":
			continue
		case len([]rune(part)) <= 2:
			i := 0
			for i < len(lines) && !strings.EqualFold(part, script.SeenLetter(i)) {
				i++
			}
			if i == len(lines) {
				return "", false
			}
			part = lines[i]
		case isCommand(part):
			return "", false
		}
		if !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, ", "), len(parts) > 0
}
