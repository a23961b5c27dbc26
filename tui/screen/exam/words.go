package exam

import (
	"loosebox/ranges"
	"loosebox/tui/layout"
)

// mostWords is how many words a screen may show in a window that is not roomy, so that it is read quickly; leastOrder is how
// many of them are kept for the order at the left.
const (
	mostWords  = 120
	leastOrder = 24
)

// words counts the words of drawn lines: runs of non-blanks that contain a letter or a digit. It is called for every frame,
// so it reads bytes: beyond ASCII, only characters that begin with 0xe2 (rules and signs) do not count as letters.
func words(lines []string) int {
	n := 0
	for _, line := range lines {
		counted := false
		for i := 0; i < len(line); i++ {
			switch c := line[i]; {
			case c == ' ':
				counted = false
			case c == 0x1b: // a colour
				for i < len(line)-1 && line[i] != 'm' {
					i++
				}
			case c == 0xe2:
				i += 2
			case !counted && (c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z' || c >= 0xc3):
				n, counted = n+1, true
			}
		}
	}
	return n
}

// wordsLeft is how many words the order at the left and the step at the right may have: not those of the title, nor of the
// keys at the foot.
func (s *screen) wordsLeft() int {
	frame := []string{s.Title(), s.Right(), "esc back ? help"}
	for _, b := range s.Keys() {
		if b.Does != "" && b.Off == "" {
			frame = append(frame, b.Shown()+" "+b.Does)
		}
	}
	return mostWords - words(frame)
}

// drawBoth is the order and the step within the words of a screen: where they are too many, first what can be said shorter
// at the right is, then the order is drawn together.
func (s *screen) drawBoth(left, right layout.Size) (order, step []string) {
	step = s.drawStep(right, false)
	if right.H >= roomy || s.horse.Patient != nil {
		return s.drawOrder(left, mostWords), step
	}
	most := s.wordsLeft()
	if s.level >= ranges.LevelTell { // never cut, and not counted
		most += words(s.drawSaid(right.W, saidRows))
	}
	if words(step)+leastOrder > most {
		step = s.drawStep(right, true)
	}
	return s.drawOrder(left, most-words(step)), step
}
