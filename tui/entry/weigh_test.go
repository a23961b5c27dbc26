package entry

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/exam/weight"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

func bodyWeight() exam.Step {
	return exam.Step{
		ID: "weight.body", Name: "Body weight", Kind: exam.KindWeight, Unit: notation.Kilograms, Decimals: 1,
		Units:    []notation.Unit{notation.Kilograms, notation.Pounds},
		Possible: exam.Span{Low: 3, High: 1600}, Likely: exam.Span{Low: 20, High: 1100},
	}
}

func horse(kind exam.AnimalKind, born int) Options {
	o := options(&clock{noon()})
	o.Horse = exam.Horse{
		Name: "Linde", Kind: kind, Sex: exam.Gelding,
		Birth: exam.Birth{At: time.Date(born, 4, 1, 0, 0, 0, 0, time.UTC), Precision: exam.BornDay},
	}
	o.Class = exam.ClassOf(o.Horse, noon())
	return o
}

func TestWeighByScaleInPounds(t *testing.T) {
	f := New(bodyWeight(), horse(exam.AnimalHorse, 2017))
	require.Equal(t, Taken, send(f, "enter"), "no method is chosen beforehand")
	send(f, "1", "enter")
	letters(f, "1100lb")
	assert.Contains(t, flat(f), "1100 lb = 499 kg") // NIST SP 811: 1 lb = 0.45359237 kg
	require.Equal(t, Accepted, send(f, "enter"))
	v := value(t, f)
	assert.Equal(t, notation.Quantity{Value: 1100, Unit: notation.Pounds}, *v.Number)
	assert.Equal(t, exam.WeightScale, v.Weight.Method)
	assert.Equal(t, exam.KindWeight, v.Kind)
}

// By eye a weight is guessed at 88.3 % of the true one, SD 20.1, n 600: Ellis &
// Hollands, Vet Rec 1998;143:335.
func TestWeighByEyeIsMarked(t *testing.T) {
	f := New(bodyWeight(), horse(exam.AnimalHorse, 2017))
	send(f, "4", "enter")
	assert.Contains(t, flat(f), "mean 88 % of the scale, SD 20 (Ellis & Hollands, Vet Rec 1998;143:335)")
	letters(f, "500")
	require.Equal(t, Accepted, send(f, "enter"))
	v := value(t, f)
	assert.Equal(t, exam.WeightEye, v.Weight.Method)
	assert.Less(t, v.Weight.LowKg, 500.0)
	assert.Greater(t, v.Weight.HighKg-500, 500-v.Weight.LowKg, "guesses run low, so the true one is rather higher")
	send(f, "backspace", "backspace", "backspace", "backspace")
	assert.Contains(t, flat(f), "by eye, a guess", "back to the methods")
}

// The equation W = G² × L / 330 in inches and pounds and its worked example
// (76 in, 67 in: 1172.7 lb) are those of the University of Minnesota, body
// measurements; an estimate made for this horse must lie near it.
func TestWeighByMeasures(t *testing.T) {
	f := New(bodyWeight(), horse(exam.AnimalHorse, 2017)).(*weigh)
	send(f, "3", "enter")
	assert.Contains(t, flat(f), "1 of")
	assert.Contains(t, flat(f), "Around the chest")
	require.Equal(t, Taken, send(f, "enter"), "the girth is needed")
	letters(f, "7in")
	require.Equal(t, Taken, send(f, "enter"))
	require.Error(t, f.said, "no horse measures 7 in")
	send(f, "backspace", "backspace", "backspace")
	for range 12 {
		if f.stage == weighResult {
			break
		}
		switch f.asks[f.at].Measure {
		case "girth":
			letters(f, "76in")
		case "girth again":
			letters(f, "76in")
		case "length":
			letters(f, "67") // in inches, as the girth was
		default:
			t.Fatalf("%s is not asked of this horse", f.asks[f.at].Measure)
		}
		last := f.asks[f.at].Measure == "length"
		assert.Equal(t, last, strings.Contains(flat(f), "enter saves"), "the weight stands under the last measure, before its enter")
		want := Taken
		if last {
			want = Accepted // one enter a measure
		}
		require.Equal(t, want, send(f, "enter"), f.asks[f.at].Name)
	}
	require.Equal(t, weighResult, f.stage)
	golden(t, "weight-result", f)
	v := value(t, f)
	assert.Equal(t, exam.WeightMeasured, v.Weight.Method)
	assert.InDelta(t, 1172.7*0.45359237, v.Number.Value, 15)
	assert.Equal(t, notation.Quantity{Value: 76, Unit: notation.Inch}, v.Weight.Measures["girth"], "as typed")
	assert.NotEmpty(t, v.Weight.Equation)
	assert.Less(t, v.Weight.LowKg, v.Number.Value)

	send(f, "backspace")
	assert.Equal(t, weighMeasure, f.stage, "back to the last measure")

	o := horse(exam.AnimalHorse, 2017)
	o.Before = &v
	again := New(bodyWeight(), o).(*weigh)
	send(again, "enter")
	assert.Equal(t, "76in", again.number.line.text, "a correction starts from the measures that stand")
}

func TestWeighLendsNoEquation(t *testing.T) {
	f := New(bodyWeight(), horse(exam.AnimalMiniature, 2015)).(*weigh)
	require.Empty(t, f.asks)
	require.Equal(t, Taken, send(f, "3", "enter"))
	assert.Contains(t, flat(f), "use a scale")
	assert.Equal(t, weighMethod, f.stage)
}

func TestWeighLeavesTheScreenItsLetters(t *testing.T) {
	f := New(bodyWeight(), horse(exam.AnimalHorse, 2017))
	for range 2 {
		for _, k := range []string{"u", "x", "w", "h", "o", "r", "t", "space", "tab"} {
			assert.Equal(t, Ignored, send(f, k), k)
		}
		send(f, "1", "enter")
	}
}

func TestWeighGolden(t *testing.T) {
	o := horse(exam.AnimalHorse, 2017)
	o.LastWeight = &EarlierWeight{At: noon().AddDate(0, -2, 0), Value: exam.Value{
		Kind: exam.KindWeight, Number: &notation.Quantity{Value: 512, Unit: notation.Kilograms},
		Weight: &exam.Weight{Method: exam.WeightTape},
	}}
	f := New(bodyWeight(), o)
	golden(t, "weight-methods", f)
	send(f, "4")
	letters(f, "480")
	golden(t, "weight-eye", f)
	f = New(bodyWeight(), o)
	send(f, "3", "enter")
	letters(f, "193")
	golden(t, "weight-girth", f)
}

// A measure that another step of the exam holds is not taken anew, and one that was passed over makes those useless that
// go only with it: nothing is asked that no equation can use.
func TestWeighAsksOnlyWhatAnEquationCanUse(t *testing.T) {
	o := horse(exam.AnimalDonkey, 2017)
	o.Measured = map[weight.Measure]notation.Quantity{weight.Height: {Value: 105, Unit: notation.Centimetre}}
	f := measureOf(t, o)
	for _, text := range []string{"115cm", "115cm", "75cm"} {
		letters(f, text)
		send(f, "enter")
	}
	require.Equal(t, weight.Height, f.asks[f.at].Measure)
	assert.Contains(t, flat(f), "105cm")
	assert.Contains(t, flat(f), "as measured in this exam; enter uses it")
	send(f, "enter")
	assert.Equal(t, weighResult, f.stage)
	assert.Contains(t, flat(f), "90 of 100 animals: ", "the band says its share")
	assert.Contains(t, flat(f), "on average it read 4.2 % low in donkeys from two years in Kenya", "and its bias")
	assert.Contains(t, flat(f), "also girth and height, donkey: 156 kg (117 to 164 kg)", "every estimate that fits, with its band")
	assert.Contains(t, flat(f), "chosen: girth and elbow length, donkey: it was made for donkeys from one year")

	foal := measureOf(t, foalOf(2))
	letters(foal, "95cm")
	send(foal, "enter")
	letters(foal, "95cm")
	send(foal, "enter")
	require.Equal(t, weight.Length, foal.asks[foal.at].Measure)
	send(foal, "enter") // passed over: the knee and the foreleg go only with it
	assert.Equal(t, weighResult, foal.stage, "no measure is asked that no equation can use")
	send(foal, "backspace")
	assert.Equal(t, weight.Length, foal.asks[foal.at].Measure, "back to the last that was asked")

	mini := New(bodyWeight(), horse(exam.AnimalMiniature, 2017))
	assert.Contains(t, flat(mini), "no equation for this animal")
}

// Where the window is too small for the reasons, the last line says where the rest is.
func TestALongReasonSaysThatItGoesOn(t *testing.T) {
	f := measureOf(t, horse(exam.AnimalDonkey, 2017))
	for _, text := range []string{"115cm", "115cm", "75cm", "105cm"} {
		letters(f, text)
		send(f, "enter")
	}
	lines := f.View(layout.Size{W: 37, H: 9})
	require.Len(t, lines, 9)
	assert.Contains(t, lines[8], "s shows all")
	assert.NotContains(t, flat(f), "s shows all", "a window with room says it all")
}

// height is the entry of a weight at the height that is asked of some animal.
func height(t *testing.T, units map[notation.Unit]notation.Unit) *weigh {
	t.Helper()
	for _, kind := range []exam.AnimalKind{exam.AnimalHorse, exam.AnimalPony, exam.AnimalDraft, exam.AnimalDonkey, exam.AnimalMiniature, exam.AnimalMule} {
		o := horse(kind, 2017)
		o.Settings.Units = units
		f := New(bodyWeight(), o).(*weigh)
		for at, ask := range f.asks {
			if ask.Measure == weight.Height {
				f.at = at
				f.askMeasure()
				return f
			}
		}
	}
	t.Fatal("a height is asked of no animal")
	return nil
}

func TestAHeightInHands(t *testing.T) {
	want := notation.Quantity{Value: 62, Unit: notation.Inch}
	for _, typed := range []string{"15.2hh", "15.2h", "15-2", `5'2"`, "62in"} {
		f := height(t, nil)
		letters(f, typed)
		assert.Equal(t, typed, f.number.line.text)
		send(f, "enter")
		assert.Equal(t, want, f.read[weight.Height], "%s: %v %v", typed, f.said, f.number.said)
	}
	f := height(t, nil)
	letters(f, "15.2")
	send(f, "enter")
	require.Error(t, f.said)
	assert.Contains(t, f.said.Error(), "15.2 can be a height in hands: type 15.2hh")
	assert.NotContains(t, f.read, weight.Height)

	f = height(t, map[notation.Unit]notation.Unit{notation.Centimetre: notation.Inch, notation.Inch: notation.Hands})
	letters(f, "15.2")
	send(f, "enter")
	assert.Equal(t, want, f.read[weight.Height], "hands are set")
	f = height(t, nil)
	require.Equal(t, Ignored, send(f, "h"), "on an empty line h shows how")
}

// Who works in pounds saves a tape weight in pounds, with its band.
func TestATapeWeightInPounds(t *testing.T) {
	o := horse(exam.AnimalHorse, 2017)
	o.Settings.Units = map[notation.Unit]notation.Unit{notation.Kilograms: notation.Pounds, notation.Centimetre: notation.Inch}
	f := New(bodyWeight(), o).(*weigh)
	send(f, "3", "enter")
	for range 12 {
		if f.stage == weighResult {
			break
		}
		letters(f, map[weight.Measure]string{"length": "67"}[f.asks[f.at].Measure])
		if f.number.line.text == "" {
			letters(f, "76")
		}
		send(f, "enter")
	}
	require.Equal(t, weighResult, f.stage)
	v := value(t, f)
	assert.Equal(t, notation.Pounds, v.Number.Unit)
	assert.InDelta(t, 1172.7, v.Number.Value, 33)
	assert.Regexp(t, `\d{4} lb = \d{3} kg`, flat(f))
	assert.Regexp(t, `\d+ to \d+ lb`, flat(f))
	assert.NotRegexp(t, `also [^;]* kg`, flat(f))
}

// A held backspace stops where the line is empty: the measures before it stay. A backspace of its own goes back to them.
func TestAHeldBackspaceErasesNoEarlierMeasure(t *testing.T) {
	f := New(bodyWeight(), horse(exam.AnimalHorse, 2017)).(*weigh)
	send(f, "3")
	letters(f, "76in")
	send(f, "enter")
	letters(f, "76")
	at := noon()
	backspace := func(after time.Duration) {
		at = at.Add(after)
		f.Press(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyBackspace}, At: at})
	}
	for range 40 {
		backspace(33 * time.Millisecond)
	}
	assert.Equal(t, 1, f.at, "still at the second girth")
	assert.Empty(t, f.number.line.text)
	backspace(time.Second)
	assert.Equal(t, 0, f.at)
	for range 40 {
		backspace(33 * time.Millisecond)
	}
	assert.Equal(t, "76in", f.number.line.text, "the girth stands")
}

func TestAHeldBackspaceTakesOneTimeBack(t *testing.T) {
	f := New(refill(), options(&clock{noon()})).(*stopwatch)
	f.trials = []float64{1.4, 1.5, 1.6}
	at := noon()
	for i := range 40 {
		if i == 1 {
			at = at.Add(250 * time.Millisecond)
		}
		at = at.Add(33 * time.Millisecond)
		f.Press(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyBackspace}, At: at})
	}
	assert.Equal(t, []float64{1.4, 1.5}, f.trials)
}

// The step of the height itself takes hands too, with and without their letters.
func TestTheHeightStepTakesHands(t *testing.T) {
	step, ok := steps.Table().ByID("height.withers")
	require.True(t, ok)
	o := horse(exam.AnimalHorse, 2017)
	for _, typed := range []string{"15.2hh", `5'2"`} {
		f := New(step, o).(*number)
		letters(f, typed)
		require.Equal(t, Accepted, send(f, "enter"), "%s: %v", typed, f.said)
		v, err := f.Value()
		require.NoError(t, err)
		assert.Equal(t, notation.Quantity{Value: 62, Unit: notation.Inch}, *v.Number)
	}
	require.Equal(t, Ignored, send(New(step, o), "h"), "on an empty line h shows how")
	o.Settings.Units = notation.Units{notation.Centimetre: notation.Inch, notation.Inch: notation.Hands}
	f := New(step, o).(*number)
	letters(f, "15.2")
	require.Equal(t, Accepted, send(f, "enter"))
	v, err := f.Value()
	require.NoError(t, err)
	o.Before = &v
	assert.Contains(t, strings.Join(stands(o, step, 60), ""), "now: 15.2 hh")
}
