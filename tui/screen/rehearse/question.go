package rehearse

import (
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// settleS is how many seconds without a key must pass before a question can be answered, so that keys being typed when it
// appears do not answer it. praiseS is for how many seconds the praise of a safe choice is shown.
const (
	settleS = 0.7
	praiseS = 8.0
)

// question is a moment of danger: it asks what to do, and after a wrong choice shows the reason until a key closes it.
type question struct {
	moment rehearse.DangerMoment
	quiet  float64          // since when no key was pressed, or when it came up
	cursor int              // none before an arrow was pressed
	said   string           // why the last key answered nothing
	chosen *rehearse.Option // on its way to the disk, then judged
	wrong  bool
}

// newQuestion is a question that comes up now, with no answer under the cursor.
func (p *patient) newQuestion(m rehearse.DangerMoment) *question {
	return &question{moment: m, quiet: p.now(), cursor: -1}
}

// safe begins what is said of a safe choice.
const safe = "Safe: "

// praise is what is said of a safe choice, for a while.
type praise struct {
	words string
	until float64
}

// expect looks which moment comes up at this place, if any.
func (p *patient) expect() {
	p.pending = nil
	if m, ok := p.horse.MomentAt(p.place, p.visit); ok {
		p.pending = &m
	}
}

// due opens the question once its time has come, but never into a running count.
func (p *patient) due(now float64, n *next) {
	if p.pending == nil || p.asks != nil || p.watch.running {
		return
	}
	n.add(p.since + p.pending.AfterS)
	if now >= p.since+p.pending.AfterS {
		p.ask()
	}
}

func (p *patient) ask() {
	p.senses.end(p.now())
	p.asks = p.newQuestion(*p.pending)
}

// NeedleIn asks what is done with the needle in the muscle, once in a rehearsal.
func (p *patient) NeedleIn() bool {
	m := p.horse.AtInjection()
	if p.asks != nil && p.asks.moment.ID == m.ID {
		return true
	}
	if slices.ContainsFunc(rehearse.ChoicesIn(p.visit), func(c rehearse.Chosen) bool { return c.Moment == m.ID }) {
		return false
	}
	p.Leave()
	p.place = exam.Key{}
	p.asks = p.newQuestion(m)
	return true
}

// Asks says that a question is open.
func (p *patient) Asks() bool { return p.asks != nil }

// Press gives the answer with the number, or moves among the answers; enter gives
// the one under the cursor, and closes the reason after a wrong one. Nothing is
// answered before the keys were quiet for a moment.
func (p *patient) Press(press keys.Press) []exam.Entry {
	q, last := p.asks, len(p.asks.moment.Options)-1
	switch {
	case !q.wrong && keys.Up().Is(press):
		q.cursor = max(q.cursor-1, 0)
		return nil
	case !q.wrong && keys.Down().Is(press):
		q.cursor = min(q.cursor+1, last)
		return nil
	}
	answers := keys.Accept().Is(press) || keys.Digit().Is(press)
	if at := p.seconds(press.At); at < q.quiet+settleS {
		if q.quiet = at; answers {
			q.said = "Too soon. Read it, then press the key again."
		}
		return nil
	}
	switch q.said = ""; {
	case q.wrong:
		if keys.Accept().Is(press) {
			p.asks, p.again = nil, true
			p.senses.begin(p.place, p.now())
		}
	case keys.Digit().Is(press):
		if i := int(keys.Name(press)[0] - '1'); i >= 0 && i <= last {
			return q.choose(p.place.Site, i)
		}
	case keys.Accept().Is(press) && q.cursor < 0:
		q.said = "Press a number."
	case keys.Accept().Is(press):
		return q.choose(p.place.Site, q.cursor)
	}
	return nil
}

// choose is the entry that stores an answer.
func (q *question) choose(site exam.Site, i int) []exam.Entry {
	q.chosen = &q.moment.Options[i]
	return []exam.Entry{q.moment.Entry(site, *q.chosen)}
}

// tell says at once what a choice that is now stored was worth.
func (p *patient) tell() {
	q := p.asks
	if !q.chosen.Safe {
		q.wrong, q.quiet = true, p.now()
		return
	}
	p.praised = praise{safe + q.moment.Why, p.now() + praiseS}
	p.scene.move = p.praised.words
	p.asks = nil
	p.senses.begin(p.place, p.now())
}

// Keys are those of the question, or the sound where there is something to hear.
func (p *patient) Keys() []keys.Binding {
	switch {
	case p.asks != nil && p.asks.wrong:
		return []keys.Binding{keys.Accept().With("go on", "go on with the step")}
	case p.asks != nil:
		digits := keys.Digit().With("do it", "do what has this number; it is saved")
		digits.Label = fmt.Sprintf("1-%d", len(p.asks.moment.Options))
		return []keys.Binding{digits, keys.Up(), p.asks.enter()}
	case p.seen.Listen == exam.ListenNone:
		return nil
	}
	return []keys.Binding{keys.Listen()}
}

// enter gives the answer under the cursor, once there is one.
func (q *question) enter() keys.Binding {
	b := keys.Accept().With("do it", "do what is under the cursor; it is saved")
	if q.cursor < 0 {
		return b.OffIf("no answer is under the cursor: press its number")
	}
	return b
}

// Question draws the open question.
func (p *patient) Question(size layout.Size) []string {
	t, q := p.deps.Theme, p.asks
	var head []string
	for _, line := range layout.Wrap(theme.Caution+" "+q.moment.Happens, size.W) {
		head = append(head, t.Caution.Render(line))
	}
	if q.wrong {
		return p.verdict(head, size.W)
	}
	head = append(head, t.Strong.Render(layout.Cut(q.moment.Asks, size.W)), layout.Cut(q.said, size.W))
	var rows []string
	from, to := 0, 0
	for i, o := range q.moment.Options {
		wrapped := layout.Wrap(o.Words, size.W-4)
		if i == q.cursor {
			from, to = len(rows), len(rows)+len(wrapped)
		}
		for j, text := range wrapped {
			lead := "    "
			if j == 0 {
				lead = fmt.Sprintf("  %d ", i+1)
			}
			if i == q.cursor && j == 0 {
				lead = fmt.Sprintf("%s %d ", t.Sign.Cursor, i+1)
			}
			if i == q.cursor {
				rows = append(rows, t.Cursor.Render(lead+text))
				continue
			}
			rows = append(rows, lead+text)
		}
	}
	room := max(size.H-len(head), 1)
	first := layout.Window(layout.Window(0, to-1, len(rows), room), from, len(rows), room)
	return append(head, rows[first:min(first+room, len(rows))]...)
}

// verdict says why a choice was not safe.
func (p *patient) verdict(lines []string, width int) []string {
	t, q := p.deps.Theme, p.asks
	lines = append(lines, layout.Cut(q.said, width))
	for _, line := range layout.Wrap("You: "+q.chosen.Words, width) {
		lines = append(lines, t.Faint.Render(line))
	}
	lines = append(lines, "", t.Alarm.Render(layout.Cut("Not safe.", width)))
	lines = append(lines, layout.Wrap(q.moment.Why, width)...)
	for _, line := range layout.Wrap(p.deps.Ranges.Cite(q.moment.Source), width) {
		lines = append(lines, t.Faint.Render(line))
	}
	return lines
}
