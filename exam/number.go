package exam

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam/notation"
)

// ErrUnlikely is wrapped where a number is possible but so unusual that it is
// asked about once before it is taken.
var ErrUnlikely = errors.New("unlikely")

// ReadNumber reads what was typed at a number step. A bare number is taken in
// the preferred unit, or in the step's only other unit where the preferred one
// is impossible. An impossible value is a *notation.Refusal that says what was probably
// meant; an unlikely one comes back with an error that wraps ErrUnlikely.
func (s Step) ReadNumber(text string, prefer notation.Unit) (notation.Quantity, error) {
	q, err := notation.ParseQuantity(text)
	if err != nil {
		return notation.Quantity{}, err
	}
	typed := notation.CleanLine(text, 40)
	if hands, can := notation.BareHands(text); can && s.InHands {
		if prefer != notation.Hands {
			return notation.Quantity{}, &notation.Refusal{Typed: typed, Why: typed + " can be a height in hands: type its unit", Meant: typed + " hh"}
		}
		q = hands
	}
	if prefer == notation.Hands {
		prefer = notation.Inch
	}
	if q.Unit == notation.NoUnit && len(s.Units) > 0 {
		q.Unit = s.bareUnit(q.Value, prefer)
	}
	if !s.takes(q.Unit) {
		return notation.Quantity{}, &notation.Refusal{Typed: typed, Why: fmt.Sprintf("%s is not measured in %s", strings.ToLower(s.Name), q.Unit), Meant: s.meant(q)}
	}
	base, _ := q.In(s.Unit)
	if !s.Possible.Contains(base.Value) {
		why := fmt.Sprintf("%s is not possible for %s (%s)", q.Text(2), strings.ToLower(s.Name), s.spanIn(s.Possible, q.Unit))
		return notation.Quantity{}, &notation.Refusal{Typed: typed, Why: why, Meant: s.meant(q)}
	}
	if s.Likely != (Span{}) && !s.Likely.Contains(base.Value) {
		return q, fmt.Errorf("%s is %w for %s: press enter again if it is so", q.Text(2), ErrUnlikely, strings.ToLower(s.Name))
	}
	return q, nil
}

func (s Step) takes(u notation.Unit) bool {
	for _, own := range s.Units {
		if own == u {
			return true
		}
	}
	return len(s.Units) == 0 && u == s.Unit
}

// bareUnit chooses the unit of a number typed without one.
func (s Step) bareUnit(v float64, prefer notation.Unit) notation.Unit {
	if !s.takes(prefer) {
		prefer = s.Units[0]
	}
	if s.fits(notation.Quantity{Value: v, Unit: prefer}) {
		return prefer
	}
	for _, u := range s.Units {
		if s.fits(notation.Quantity{Value: v, Unit: u}) {
			return u
		}
	}
	return prefer
}

func (s Step) fits(q notation.Quantity) bool {
	base, ok := q.In(s.Unit)
	return ok && s.Possible.Contains(base.Value)
}

// meant guesses what was probably meant by an impossible value: the other unit,
// a lost decimal point, a stray sign, or two of these.
func (s Step) meant(q notation.Quantity) string {
	var found []string
	add := func(c notation.Quantity) {
		base, ok := c.In(s.Unit)
		if !ok || !s.likely(base.Value) {
			return
		}
		text := c.Text(2)
		for _, f := range found {
			if f == text {
				return
			}
		}
		found = append(found, text)
	}
	units := append([]notation.Unit{q.Unit}, s.Units...)
	for _, v := range []float64{q.Value, q.Value / 10, -q.Value, q.Value / 100, q.Value * 10} {
		for _, u := range units {
			if s.takes(u) {
				add(notation.Quantity{Value: v, Unit: u})
			}
		}
		if len(found) > 0 {
			break // the smallest slip that explains it is the likeliest
		}
	}
	if len(found) > 2 {
		found = found[:2]
	}
	return strings.Join(found, " or ")
}

func (s Step) likely(v float64) bool {
	if s.Likely != (Span{}) {
		return s.Likely.Contains(v)
	}
	return s.Possible.Contains(v)
}

func (s Step) spanIn(span Span, u notation.Unit) string {
	low, _ := notation.Quantity{Value: span.Low, Unit: s.Unit}.In(u)
	high, _ := notation.Quantity{Value: span.High, Unit: s.Unit}.In(u)
	return fmt.Sprintf("%s to %s", notation.FormatNumber(low.Value, 1), high.Text(1))
}
