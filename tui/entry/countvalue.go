package entry

import (
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

// Value is the rate 60·n/(t_n − t_0) in counts a minute, with the times of all taps, from which it can be computed again.
func (c *count) Value() (exam.Value, error) {
	if c.ear != nil {
		return c.ear.value()
	}
	r := c.result
	switch {
	case !r.HasRate:
		return exam.Value{}, &notation.Refusal{Why: "nothing was counted yet: space at each " + c.noun()}
	case r.Open > 0:
		return exam.Value{}, &notation.Refusal{Why: fmt.Sprintf("%s open: enter asks", notation.Counted(r.Open, "question"))}
	}
	if err := spanErr(c.step, r.Rate); err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return exam.Value{}, err
	}
	n := &exam.Count{
		Method: exam.CountTapped, TapsS: c.taps.Raw(), LeadIn: r.LeadIn, Held: c.taps.HeldPresses(), Evenness: r.Evenness,
	}
	if r.HasHalfWidth {
		n.HalfWidth = r.HalfWidth
	}
	for _, q := range r.Questions {
		switch {
		case q.Kind == tap.LongGap:
			n.Answers = append(n.Answers, exam.GapAnswer{AfterTap: q.AfterTap, Missed: q.Answer == tap.TapMissed})
		case q.Kind == tap.SoundsInTurn:
			n.OneSound = true
		}
	}
	n.NotBeats = c.notBeats()
	return exam.Value{Kind: c.step.Kind, Number: &notation.Quantity{Value: r.Rate, Unit: notation.PerMinute}, Count: n}, nil
}

func (c *count) noun() string {
	if c.what == tap.Breath {
		return "breath"
	}
	return "beat"
}

func amount2(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
