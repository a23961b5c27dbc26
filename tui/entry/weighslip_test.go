package entry

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
)

// measureOf begins to measure an animal.
func measureOf(t *testing.T, o Options) *weigh {
	t.Helper()
	f := New(bodyWeight(), o).(*weigh)
	require.Equal(t, Taken, send(f, "3", "enter"))
	require.Equal(t, weighMeasure, f.stage)
	return f
}

func retype(f Widget, text string) {
	for f.(*weigh).number.line.text != "" {
		send(f, "backspace")
	}
	letters(f, text)
}

// A bad measure is refused where it is typed, with the likely slip, and is not kept.
func TestBadMeasuresAreRefusedWithTheLikelySlip(t *testing.T) {
	for _, c := range []struct{ typed, says string }{
		{"3cm", "3 cm"}, {"900cm", "a girth of 900 cm is not possible"}, {"76cm", "did you mean 76 in (193 cm)?"}, {"19.3cm", "did you mean 193 cm?"}, {"193in", "did you mean 193 cm?"},
	} {
		f := measureOf(t, horse(exam.AnimalHorse, 2017))
		letters(f, c.typed)
		require.Equal(t, Taken, send(f, "enter"), c.typed)
		require.Error(t, f.said, c.typed)
		assert.Contains(t, flat(f)+f.said.Error(), c.says, c.typed)
		assert.Equal(t, 0, f.at, "still at the girth")
		assert.Empty(t, f.read, c.typed)
	}
}

// A length of more than twice the girth is refused at the length; the girth stays.
func TestALengthOfTwiceTheGirthIsRefused(t *testing.T) {
	f := measureOf(t, horse(exam.AnimalHorse, 2017))
	letters(f, "128cm")
	send(f, "enter", "enter") // the second girth may be passed over
	require.Equal(t, weight.Length, f.asks[f.at].Measure)
	retype(f, "258cm")
	require.Equal(t, Taken, send(f, "enter"))
	require.Error(t, f.said)
	assert.Contains(t, f.said.Error(), "a length of 258 cm beside a girth of 128 cm is not possible")
	assert.Equal(t, weight.Length, f.asks[f.at].Measure)
	assert.Contains(t, f.read, weight.Girth)
}

// A donkey, a mule and a foal are asked their own measures and never get the equation of the light horse.
func TestNoWidgetLendsTheLightHorsesEquation(t *testing.T) {
	for _, c := range []struct {
		name  string
		o     Options
		typed map[weight.Measure]string
	}{
		{"donkey", horse(exam.AnimalDonkey, 2017), map[weight.Measure]string{"girth": "115cm", "girth again": "115cm", "length": "80cm", "height": "105cm"}},
		{"mule", horse(exam.AnimalMule, 2017), map[weight.Measure]string{"girth": "170cm", "girth again": "170cm", "length": "120cm", "height": "140cm"}},
		{"foal", foalOf(2), map[weight.Measure]string{"girth": "80cm", "girth again": "80cm", "length": "75cm", "carpus": "25cm", "foreleg": "75cm"}},
	} {
		f := measureOf(t, c.o)
		for range 12 {
			if f.stage == weighResult {
				break
			}
			of := f.asks[f.at].Measure
			text, ok := c.typed[of]
			if !ok {
				require.True(t, f.asks[f.at].Optional, "%s: %s", c.name, of)
			}
			retype(f, text)
			require.NotEqual(t, Ignored, send(f, "enter"), "%s: %s", c.name, of)
		}
		require.Equal(t, weighResult, f.stage, c.name)
		require.NoError(t, f.said, c.name)
		require.GreaterOrEqual(t, f.chosen, 0, "%s: %s", c.name, f.why)
		assert.False(t, strings.HasPrefix(f.all[f.chosen].Equation.ID, "girth and length, horse"), c.name)
		v := value(t, f)
		assert.NotContains(t, v.Weight.Equation, "length, horse", c.name)
	}
}

func foalOf(days int) Options {
	o := horse(exam.AnimalHorse, 2017)
	o.Horse.Birth.At = noon().AddDate(0, 0, -days)
	o.Class = exam.ClassOf(o.Horse, noon())
	return o
}

// More than a fifth from the last weight: look for a slip of kg and lb.
func TestAWeightFarFromTheLastIsWarnedOf(t *testing.T) {
	o := horse(exam.AnimalHorse, 2017)
	o.LastWeight = &EarlierWeight{At: noon(), Value: exam.Value{Kind: exam.KindWeight, Number: &notation.Quantity{Value: 500, Unit: notation.Kilograms}}}
	f := New(bodyWeight(), o)
	send(f, "1", "enter")
	letters(f, "1100kg")
	assert.Contains(t, flat(f), "+120 % from the one before (500 kg). Check kg and lb")
	retype(f, "600kg")
	assert.NotContains(t, flat(f), "from the one before", "20 % is still taken")
}

// What no animal of this kind and age weighs, and what is far from its last weight, is asked about once.
func TestAWeightThatIsNotThisAnimalsIsAskedAbout(t *testing.T) {
	weighed := horse(exam.AnimalPony, 2017)
	weighed.LastWeight = &EarlierWeight{At: noon(), Value: exam.Value{Kind: exam.KindWeight, Number: &notation.Quantity{Value: 240, Unit: notation.Kilograms}}}
	for _, c := range []struct {
		name, typed string
		o           Options
		asked       bool
	}{
		{"horse", "45", horse(exam.AnimalHorse, 2017), true},
		{"horse", "1100", horse(exam.AnimalHorse, 2017), true},
		{"horse", "1100lb", horse(exam.AnimalHorse, 2017), false},
		{"donkey", "45", horse(exam.AnimalDonkey, 2017), true},
		{"miniature", "45", horse(exam.AnimalMiniature, 2017), false},
		{"draft", "45", horse(exam.AnimalDraft, 2017), true},
		{"foal of two days", "45", foalOf(2), false},
		{"foal of two days", "450", foalOf(2), true},
		{"pony of 240 kg", "530", weighed, true},
		{"pony of 240 kg", "220", weighed, false},
	} {
		f := New(bodyWeight(), c.o)
		send(f, "1", "enter")
		letters(f, c.typed)
		first := send(f, "enter")
		if !c.asked {
			assert.Equal(t, Accepted, first, c.name+c.typed)
			continue
		}
		require.Equal(t, Taken, first, c.name+c.typed)
		assert.Contains(t, f.(*weigh).number.said.Error(), "press enter again if it is so")
		assert.NotRegexp(t, `\blikely \d`, flat(f), "no likely band under an unlikely weight")
		assert.Equal(t, Accepted, send(f, "enter"), c.name+c.typed)
	}
}
