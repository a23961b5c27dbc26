package rehearse

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/tui/layout"
)

// View draws what the hand, the eye or the ear gets at this place.
func (p *patient) View(size layout.Size) []string {
	width := size.W
	if !p.here {
		return nil
	}
	t := p.deps.Theme
	words := p.seen.Words
	if p.seen.Told != "" && !p.heard() { // what is played is heard, and not told
		words = p.seen.Told
	}
	lines := layout.Wrap(sense(p.seen.Sense)+": "+words, width)
	if p.scene.shown != "" {
		lines = append(lines, t.Strong.Render(layout.Cut(p.scene.shown, width)))
	}
	switch p.seen.Listen {
	case exam.ListenHeart:
		lines = append(lines, p.beats(width))
	case exam.ListenBreath:
		lines = append(lines, p.bar("flank", p.scene.out, flankOut, flankIn, width))
	case exam.ListenGut:
		lines = append(lines, p.gut(width))
	case exam.ListenNone:
	}
	move, text := t.Caution, p.scene.move
	if strings.HasPrefix(text, safe) {
		move = t.Good
		if size.H < lowBody {
			text = strings.TrimSuffix(safe, ": ") + "."
		}
	}
	for _, line := range layout.Wrap(text, width) {
		lines = append(lines, move.Render(line))
	}
	return lines
}

// lowBody is the height under which a safe choice is praised in one word.
const lowBody = 17

func sense(s exam.Sense) string {
	switch s {
	case exam.ByEar:
		return "heard"
	case exam.ByHand:
		return "felt"
	case exam.ByEye:
	}
	return "seen"
}

// Widths of what moves, in columns.
const (
	beatWide = 10
	flankIn  = 5
	flankOut = 12
)

// bar is something that is wide while it is on.
func (p *patient) bar(name string, on bool, wide, narrow, width int) string {
	t := p.deps.Theme
	if !on {
		wide = narrow
	}
	return layout.Cut(layout.Pad(name, 6)+t.Digits.Render(strings.Repeat(t.Sign.Block, wide)), width-len(p.ears())) + p.ears()
}

// heard says that what is to be heard at the place is played.
func (p *patient) heard() bool {
	return p.hearing == played && p.deps.Player != nil && p.seen.Listen != exam.ListenNone
}

// beats is the heart: drawn, or only how long one listens where it is played.
func (p *patient) beats(width int) string {
	switch {
	case p.heard():
		return layout.Cut("listening "+clock(p.scene.listen), width-len(p.ears())) + p.ears()
	case p.scene.thud:
		return layout.Cut(layout.Pad("beat", 6)+"(soft thud)", width-len(p.ears())) + p.ears()
	}
	return p.bar("beat", p.scene.lit, beatWide, 0, width)
}

// gut is how long was listened, and what sounds now; nothing of it is told where it is played.
func (p *patient) gut(width int) string {
	if p.heard() {
		return layout.Cut("listening "+clock(p.scene.listen), width-len(p.ears())) + p.ears()
	}
	words := make([]string, len(p.scene.sounds))
	for i, s := range p.scene.sounds {
		words[i] = s.Kind.String()
	}
	text := fmt.Sprintf("listening %s  %s", clock(p.scene.listen), p.deps.Theme.Strong.Render(strings.Join(words, ", ")))
	return layout.Cut(text, width-len(p.ears())) + p.ears()
}

// ears says what is heard beside what is drawn.
func (p *patient) ears() string {
	if p.hearing == silent || p.hearing == bell && p.seen.Listen != exam.ListenHeart {
		return ""
	}
	return " (" + string(p.hearing) + ")"
}

// Right is the clock of a timed rehearsal.
func (p *patient) Right() string {
	if !p.modes.Timed {
		return ""
	}
	switch limit := int(p.limitS); {
	case limit > 0 && p.scene.total >= limit:
		return fmt.Sprintf("%s: time is up", clock(limit))
	case limit > 0:
		return fmt.Sprintf("%s of %s", clock(p.scene.total), clock(limit))
	}
	return fmt.Sprintf("%s, step %s", clock(p.scene.total), clock(p.scene.step))
}

func clock(seconds int) string { return fmt.Sprintf("%d:%02d", seconds/60, seconds%60) }
