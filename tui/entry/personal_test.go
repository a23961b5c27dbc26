package entry

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
)

// A person's own scatter gives 1.96·√2·σ·60/(n·T²): for the 35 ms of Ada and ten
// gaps of 1.5 s 0.26 /min. Nobody else's scatter is used, and none for breaths.
func TestOwnSteadinessIsThePersonsOwn(t *testing.T) {
	for _, c := range []struct {
		person string
		step   exam.Step
		shown  bool
	}{{"Ada", heartRate(), true}, {"Bo", heartRate(), false}, {"", heartRate(), false}, {"Ada", breathRate(), false}} {
		o := options(&clock{noon()})
		o.Person, o.Settings.Scatter = c.person, map[string]exam.Scatter{"Ada": {SigmaS: 0.035}}
		f := New(c.step, o)
		for k := range 13 {
			taps(f, 1500*k+10*(k%3))
		}
		for _, width := range []int{34, 52, 86} {
			if c.shown {
				assert.Contains(t, screen(f, width, 14), "± 0.3 /min, your usual tapping", "%d columns", width)
			} else {
				assert.NotContains(t, screen(f, width, 14), "your usual tapping", "%s %s", c.person, c.step.Name)
			}
		}
	}
}
