package entry

import (
	"errors"
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// parts is the widget of a score with parts: a digit scores the part under the cursor and goes to the next. Left or right
// switches to the widget of the total and back; each keeps what was typed.
type parts struct {
	step   exam.Step
	o      Options
	total  Widget
	each   bool // part by part
	at     int
	last   int // the part that was scored last; -1 for none
	scores map[string]float64
	sure   bool // enter was pressed although parts are left out
	said   error
}

// newParts starts a correction the way the answer was given, else a sum part by part, so that nobody has to add, and a scale
// with its total.
func newParts(step exam.Step, o Options, total Widget) *parts {
	p := &parts{step: step, o: o, total: total, each: !step.Parts.Mean, last: -1, scores: map[string]float64{}}
	if o.Before != nil {
		p.each = len(o.Before.Parts) > 0
		for key, score := range o.Before.Parts {
			p.scores[key] = score
		}
	}
	return p
}

func (p *parts) Init() tea.Cmd              { return p.total.Init() }
func (p *parts) Update(msg tea.Msg) tea.Cmd { return p.total.Update(msg) }
func (p *parts) Typing() bool               { return false }
func (p *parts) Busy() bool                 { return p.total.Busy() }

func (p *parts) Keys() []keys.Binding {
	noun := p.step.Parts.Noun
	if !p.each {
		return append(p.total.Keys(), keys.Left().With("by "+noun, "score every "+noun+" on its own; the total is made of them"))
	}
	digit := keys.Digit().With("score", "score the "+noun+" under the cursor and go to the next")
	digit.Label = notation.FormatNumber(p.step.Parts.Score.Low, 0) + "-" + notation.FormatNumber(p.step.Parts.Score.High, 0)
	list := []keys.Binding{
		digit,
		keys.Up(), keys.Accept(), keys.TakeBack().With("erase", "clear the score under the cursor, or the one before"),
	}
	if p.step.Parts.Halves {
		list = append(list, keys.Half())
	}
	return append(list, keys.Left().With("at once", "type the total, without its "+noun+"s"))
}

func (p *parts) Press(k keys.Press) (KeyResult, tea.Cmd) {
	if keys.Left().Is(k) || keys.Right().Is(k) {
		p.each, p.said, p.sure = !p.each, nil, false
		return Taken, nil
	}
	if !p.each {
		return p.total.Press(k)
	}
	last := len(p.step.Parts.List) - 1
	switch {
	case keys.Accept().Is(k):
		return p.enter(), nil
	case keys.Digit().Is(k):
		p.score(float64(keys.Name(k)[0] - '0'))
		if p.whole() {
			return p.enter(), nil
		}
	case p.step.Parts.Halves && keys.Half().Is(k):
		p.half()
	case keys.TakeBack().Is(k):
		p.clear()
	case keys.Up().Is(k):
		p.move(max(p.at-1, 0))
	case keys.Down().Is(k):
		p.move(min(p.at+1, last))
	case keys.Name(k) == "home":
		p.move(0)
	case keys.Name(k) == "end":
		p.move(last)
	default:
		return Ignored, nil
	}
	return Taken, nil
}

// whole says that the digit just pressed was the last one of a sum that is answered for the first time: no enter is needed
// behind it. A score that takes halves may get a point behind its digit.
func (p *parts) whole() bool {
	of := p.step.Parts
	return p.said == nil && p.o.Before == nil && !of.Mean && !of.Halves && len(p.scores) == len(of.List)
}

func (p *parts) move(to int) { p.at, p.last, p.said, p.sure = to, -1, nil, false }

func (p *parts) key(i int) string { return p.step.Parts.List[i].Key }

// score takes a digit for the part under the cursor.
func (p *parts) score(n float64) {
	p.said, p.sure = nil, false
	if s := p.step.Parts.Score; !s.Contains(n) {
		p.said = &notation.Refusal{Why: fmt.Sprintf("%s is no score of one %s: %s", notation.FormatNumber(n, 0), p.step.Parts.Noun, p.step.Parts.Range())}
		return
	}
	p.scores[p.key(p.at)] = n
	p.last = p.at
	p.at = min(p.at+1, len(p.step.Parts.List)-1)
}

// half adds a half to the part that was scored last, or to the one under the
// cursor, and takes it away again.
func (p *parts) half() {
	p.said, p.sure = nil, false
	i := p.at
	if p.last >= 0 {
		i = p.last
	}
	n, ok := p.scores[p.key(i)]
	switch up := exam.HalfUp(n + 0.5); {
	case !ok:
		p.said = errors.New("choose its score first; then . adds a half")
	case n != float64(int(n)):
		p.scores[p.key(i)] = n - 0.5
	case p.step.Parts.Score.Contains(up):
		p.scores[p.key(i)] = up
	}
}

// clear takes back the score under the cursor, or the one before where there is none.
func (p *parts) clear() {
	p.said, p.sure = nil, false
	if p.last >= 0 {
		p.at = p.last
	} else if _, ok := p.scores[p.key(p.at)]; !ok {
		p.at = max(p.at-1, 0)
	}
	delete(p.scores, p.key(p.at))
	p.last = -1
}

// enter accepts a whole score at once, and a sum with parts left out when asked
// again.
func (p *parts) enter() KeyResult {
	v, err := p.Value()
	if err == nil && v.Bound != exam.NoBound && !p.sure {
		p.sure = true
		n := len(p.step.Parts.List) - len(v.Parts)
		err = fmt.Errorf("%d %s missing: the sum is %s. Enter again saves it", n, plural(p.step.Parts.Noun, n), v.Show(p.step))
		p.said = err
		return Taken
	}
	if p.said = err; err != nil {
		return Taken
	}
	return Accepted
}

func plural(noun string, n int) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

// Value is the total with its parts, or the total at once.
func (p *parts) Value() (exam.Value, error) {
	if !p.each {
		return p.total.Value()
	}
	return p.step.PartsValue(p.scores)
}

// View draws a line a part with its score, what to look for at the cursor, and
// the total so far.
func (p *parts) View(size layout.Size) []string {
	if !p.each {
		return p.total.View(size)
	}
	t, list := p.o.Theme, p.step.Parts.List
	under := []string{t.Strong.Render(layout.Cut(p.sum(), size.W))}
	under = append(under, sentence(t, p.said, size.W)...)
	if hint := list[p.at].Hint; hint != "" && p.said == nil {
		under = append(under, words(t, hint, size.W)...)
	}
	if says := p.step.Parts.Says; says != "" && size.H-len(under) > len(list) {
		under = append(words(t, says, size.W), under...)
	}
	if size.H-len(under) > len(list) {
		under = append(under, stands(p.o, p.step, size.W)...)
	}
	wide := 0
	for _, part := range list {
		wide = max(wide, len(part.Words))
	}
	height := min(len(list), max(size.H-len(under), 1))
	first := layout.Window(0, p.at, len(list), height)
	var lines []string
	for i := first; i < first+height; i++ {
		score := "_"
		if n, ok := p.scores[list[i].Key]; ok {
			score = notation.FormatNumber(n, 1)
		}
		text := "  " + layout.Pad(list[i].Words, wide) + "  " + score
		if i == p.at {
			text = t.Cursor.Render(t.Sign.Cursor + text[1:])
		}
		lines = append(lines, text)
	}
	return fit(append(lines, under...), size)
}

// sum is the total so far, and how many parts it is made of.
func (p *parts) sum() string {
	total, n := 0.0, len(p.step.Parts.List)
	for _, s := range p.scores {
		total += s
	}
	have := len(p.scores)
	switch {
	case p.step.Parts.Mean && have < n:
		return fmt.Sprintf("%d of %d %ss; all are needed", have, n, p.step.Parts.Noun)
	case p.step.Parts.Mean:
		return fmt.Sprintf("score %s, the mean of %d %ss is %s", notation.FormatNumber(exam.HalfUp(total/float64(n)), 1), n, p.step.Parts.Noun,
			notation.FormatNumber(total/float64(n), 2))
	case have < n:
		left := float64(n-have) * p.step.Parts.Score.High
		return fmt.Sprintf("sum %s to %s, %d of %d %ss scored", notation.FormatNumber(total, 0), notation.FormatNumber(total+left, 0), have, n, p.step.Parts.Noun)
	}
	return fmt.Sprintf("sum %s of %s", notation.FormatNumber(total, 0), notation.FormatNumber(float64(n)*p.step.Parts.Score.High, 0))
}
