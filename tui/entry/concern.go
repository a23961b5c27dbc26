package entry

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

// concern is a warning that is shown once before a count is accepted, or a reason to refuse it.
type concern struct {
	what  string
	err   error
	never bool
}

func (c *count) concerns() []concern {
	var out []concern
	r := c.result
	if err := spanErr(c.step, r.Rate); err != nil {
		out = append(out, concern{"span", err, !errors.Is(err, exam.ErrUnlikely)})
	}
	span := r.LastS - r.FirstS
	switch {
	case c.what == tap.Heart && span < leastHeartS:
		out = append(out, concern{what: "short", err: fmt.Errorf(
			"only %.0f s: tap a heart for at least %.0f s. Tap on, or press enter again to save", span, leastHeartS)})
	case c.what == tap.Breath && span < leastBreathS && r.Beats < leastBreaths:
		out = append(out, concern{what: "short", err: fmt.Errorf(
			"only %.0f s and %s: breathing needs %.0f s or %d breaths. Tap on, or press enter again to save",
			span, notation.Counted(r.Beats, "breath"), leastBreathS, leastBreaths)})
	}
	if r.Evenness == tap.Irregular && span < unevenS {
		out = append(out, concern{what: "uneven", err: errors.New(
			"irregular, no repeating pattern: tap for 60 s and tell the veterinarian. Only an ECG names a rhythm. Enter again saves this count")})
	}
	return out
}

// spanErr refuses an impossible rate and asks about an unlikely one.
func spanErr(step exam.Step, rate float64) error {
	if step.Possible == (exam.Span{}) {
		return nil
	}
	_, err := step.ReadNumber(notation.FormatNumber(rate, 1), step.Unit)
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return &notation.Refusal{Why: fmt.Sprintf("%s /min is not possible for %s: count again",
			notation.FormatNumber(rate, 1), strings.ToLower(step.Name))}
	}
	return err
}
