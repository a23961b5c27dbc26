package entry

import (
	"errors"
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/tap"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// question asks something that the times of the taps leave open, such as whether a gap is a missed tap. Both rates are
// shown, and nothing is chosen beforehand.
type question struct {
	of   tap.Question
	text string
	list list
}

// The keys of the answers.
const (
	answerFirst    = "first"
	answerSecond   = "second"
	answerFirstAll = "first all"
	answerLastAll  = "second all"
)

// ask opens the first question without an answer, and says whether there is one.
func (c *count) ask() bool {
	c.asking = nil
	for _, q := range c.result.Questions {
		if q.Answer == tap.Unanswered {
			c.asking = c.newQuestion(q)
			return true
		}
	}
	return false
}

func (c *count) newQuestion(q tap.Question) *question {
	out := &question{of: q, list: list{cursor: -1}}
	first, second := "", ""
	switch q.Kind {
	case tap.SoundsInTurn:
		out.text = fmt.Sprintf("Were both sounds of each beat tapped? With one sound a beat it is %s, as tapped %s.",
			perMin(q.RateIfLess), perMin(q.RateAsTapped))
		first, second = "yes: count again", "no: "+perMin(q.RateAsTapped)
	case tap.DoubtfulTap:
		out.text = fmt.Sprintf("Tap %d came between two others.", q.AfterTap)
		first, second = "it was no "+c.noun()+": "+perMin(q.RateIfLess), "it was a "+c.noun()+": "+perMin(q.RateAsTapped)
	default:
		out.text = fmt.Sprintf("A gap of %.1f s after tap %d, %.1f times the usual one.", q.LengthS, q.AfterTap, q.TimesUsual)
		first, second = "a tap was missed: "+perMin(q.RateIfMissed), "the heart paused: "+perMin(q.RateIfPause)
		if q.Beats > 2 {
			first = fmt.Sprintf("%d taps were missed: %s", q.Beats-1, perMin(q.RateIfMissed))
		}
		if c.what == tap.Breath {
			second = "breathing paused: " + perMin(q.RateIfPause)
		}
	}
	out.list.choices = []exam.Choice{{Key: answerFirst, Words: first}, {Key: answerSecond, Words: second}}
	if n := c.unanswered(q.Kind); n > 1 && q.Kind == tap.LongGap {
		out.list.choices = append(out.list.choices,
			exam.Choice{Key: answerFirstAll, Words: fmt.Sprintf("missed, all %d: %s", n, perMin(c.result.RateIfAllMissed))},
			exam.Choice{Key: answerLastAll, Words: fmt.Sprintf("paused, all %d: %s", n, perMin(c.result.RateIfAllPause))})
	}
	return out
}

func (c *count) unanswered(kind string) int {
	n := 0
	for _, q := range c.result.Questions {
		if q.Kind == kind && q.Answer == tap.Unanswered {
			n++
		}
	}
	return n
}

func (c *count) pressQuestion(p keys.Press) KeyResult {
	switch {
	case keys.Accept().Is(p):
		chosen, ok := c.asking.list.chosen()
		if !ok {
			c.said = errors.New("choose by the number of the line, then enter")
			return Taken
		}
		return c.answer(chosen.Key)
	case keys.TakeBack().Is(p):
		c.asking, c.said = nil, nil
	case keys.Tap().Is(p):
		c.said = errors.New("answer the question first; backspace goes back to the count")
	case c.asking.list.press(p):
		c.said = nil
	default:
		return Ignored
	}
	return Taken
}

// answer notes what was chosen and goes on to the next question, or accepts.
func (c *count) answer(chosen string) KeyResult {
	q := c.asking.of
	if q.Kind == tap.SoundsInTurn && chosen == answerFirst {
		c.again()
		c.said = errors.New("the count was discarded: tap once at each beat, not at each sound")
		return Taken
	}
	a := answerOf(q.Kind, chosen == answerFirst || chosen == answerFirstAll)
	c.taps.Answer(q.AfterTap, a)
	if chosen == answerFirstAll || chosen == answerLastAll {
		for _, other := range c.result.Questions {
			if other.Kind == q.Kind && other.Answer == tap.Unanswered {
				c.taps.Answer(other.AfterTap, a)
			}
		}
	}
	c.result = c.taps.Result()
	return c.enter()
}

func answerOf(kind string, first bool) tap.Answer {
	switch {
	case kind == tap.SoundsInTurn:
		return tap.OneSound
	case kind == tap.DoubtfulTap && first:
		return tap.ExtraTap
	case kind == tap.DoubtfulTap:
		return tap.RealTap
	case first:
		return tap.TapMissed
	}
	return tap.RealPause
}

// notBeats are the numbers of the taps that the person said were not beats, rising.
func (c *count) notBeats() []int {
	var out []int
	for tapNo, a := range c.taps.Options().Answers {
		if a == tap.ExtraTap {
			out = append(out, tapNo)
		}
	}
	slices.Sort(out)
	return out
}

func (c *count) viewQuestion(size layout.Size) []string {
	lines := layout.Wrap(c.asking.text, size.W)
	under := sentence(c.o.Theme, c.said, size.W)
	room := layout.Size{W: size.W, H: size.H - len(lines) - len(under)}
	lines = append(lines, c.asking.list.view(c.o.Theme, room)...)
	return fit(append(lines, under...), size)
}

func perMin(rate float64) string { return fmt.Sprintf("%.1f /min", rate) }
