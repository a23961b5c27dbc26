package entry

import (
	"errors"
	"fmt"
	"strconv"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

// counted reads the number that was typed.
func (e *ear) counted() (tap.ByEar, error) {
	n, err := strconv.Atoi(e.line.text)
	if err != nil {
		return tap.ByEar{}, &notation.Refusal{Why: fmt.Sprintf("type how many were counted in %d s", e.window)}
	}
	return tap.Counted(e.what, n, e.window, false)
}

// enter accepts the number; a window too short for it, and an unlikely rate,
// are said once.
func (e *ear) enter() KeyResult {
	r, err := e.counted()
	if err == nil {
		err = spanErr(e.step, r.RatePerMin)
		if (err == nil || errors.Is(err, exam.ErrUnlikely)) && e.sure == e.line.text {
			err = nil
		} else if err == nil && !r.Enough {
			err = fmt.Errorf("%s (%s). Enter again keeps this count", r.Why, r.Source)
		}
	}
	if e.said = err; err != nil {
		e.sure = e.line.text
		return Taken
	}
	return Accepted
}

func (e *ear) value() (exam.Value, error) {
	switch e.stage {
	case earRead:
		v, err := e.number.Value()
		v.Count = &exam.Count{Method: exam.CountTyped}
		return v, err
	case earType:
		r, err := e.counted()
		if err == nil {
			err = spanErr(e.step, r.RatePerMin)
		}
		if err != nil && !errors.Is(err, exam.ErrUnlikely) {
			return exam.Value{}, err
		}
		return exam.Value{
			Kind: e.step.Kind, Number: &notation.Quantity{Value: r.RatePerMin, Unit: notation.PerMinute}, Typed: e.line.text,
			Count: &exam.Count{Method: exam.CountByEar, WindowS: float64(e.window), Counted: r.Counted},
		}, nil
	case earChoose, earReady, earRun:
	}
	return exam.Value{}, &notation.Refusal{Why: "nothing was counted yet"}
}
