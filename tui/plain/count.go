package plain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

func counted(text string) (n, window int, ok bool) {
	left, right, found := strings.Cut(strings.ToLower(text), " in ")
	if !found {
		return 0, 0, false
	}
	n, err1 := strconv.Atoi(strings.TrimSpace(left))
	window, err2 := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(right), "s")))
	return n, window, err1 == nil && err2 == nil
}

// byEar makes the value of a count in a window.
func byEar(step exam.Step, n, window int) (exam.Value, error) {
	c, err := tap.Counted(tap.What(step.Heard), n, window, false)
	if err != nil {
		return exam.Value{}, err
	}
	q := notation.Quantity{Value: c.RatePerMin, Unit: notation.PerMinute}
	if !step.Possible.Contains(q.Value) {
		return exam.Value{}, &notation.Refusal{Why: fmt.Sprintf("%s is not possible for %s", q.Text(1), strings.ToLower(step.Name))}
	}
	v := exam.Value{
		Kind: exam.KindCount, Number: &q, Typed: fmt.Sprintf("%d in %d", n, window),
		Count: &exam.Count{Method: exam.CountByEar, WindowS: float64(window), Counted: n},
	}
	if step.Likely != (exam.Span{}) && !step.Likely.Contains(q.Value) {
		return v, exam.ErrUnlikely
	}
	return v, nil
}

// byClock lets the clock run for a count by ear, rings, and asks for the number.
func (s *Session) byClock(i int, step exam.Step, text string) (command, int, error) {
	if step.Kind != exam.KindCount {
		return s.answer(i, step, "count "+text)
	}
	window, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || (window != 15 && window != 30 && window != 60) || s.Wait == nil && s.Horse == nil {
		s.line("Type count 15, count 30 or count 60; or what was counted: 11 in 15.")
		return again, 0, nil
	}
	s.line("%s Counting %d seconds from now.", tap.FirstBeat, window)
	began := s.Deps.Now()
	s.listen(s.keys[i], step, float64(window))
	if err := tap.ClockSlip(s.Deps.Waits.Clocks(began, s.Deps.Now())); err != nil {
		s.line("\a%s.", notation.Capital(err.Error()))
		return again, 0, nil
	}
	s.line("\aStop. How many were counted?")
	answer, err := s.reply()
	if err != nil {
		return again, 0, err
	}
	n, err := strconv.Atoi(strings.TrimSpace(answer))
	if err != nil {
		s.line("Not saved: that is no whole number.")
		return again, 0, nil
	}
	v, err := byEar(step, n, window)
	if errors.Is(err, exam.ErrUnlikely) {
		second, same := s.unlikely(v, answer)
		if !same {
			return s.heed(i, second)
		}
		err = nil
	}
	if err != nil {
		s.line("Not saved: %s.", err)
		return again, 0, nil
	}
	if c, err := tap.Counted(tap.What(step.Heard), n, window, false); err == nil {
		s.line("Counted %s.", c.Coarse)
		if !c.Enough {
			s.line("%s (%s).", notation.Capital(c.Why), c.Source)
		}
	}
	return s.keep(s.keys[i], step, v)
}
