package sums_test

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	all "loosebox/exam/sums"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/sums"
	"loosebox/tui/screentest"
)

// open puts the sums of a horse on the screen, who was weighed by eye 70 days ago.
func open(t testing.TB, name string, size layout.Size) *screentest.Driver {
	t.Helper()
	deps, store := screentest.Deps(t)
	horses := screentest.Yard(t, store)
	if name == "" {
		return screentest.New(t, deps, sums.New, nav.Address{}, size)
	}
	h := horses[name]
	v := screentest.Visit(t, store, h, screentest.Now().Add(-70*24*time.Hour), 38, 40)
	_, err := store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryFinding, Step: "weight.body", By: "Ann Bell", At: v.OpenedAt, Value: &exam.Value{
		Kind: exam.KindWeight, Number: &notation.Quantity{Value: 480, Unit: notation.Kilograms}, Weight: &exam.Weight{Method: exam.WeightEye, LowKg: 436, HighKg: 686},
	}})
	require.NoError(t, err)
	return screentest.New(t, deps, sums.New, nav.Address{Horse: h.ID}, size)
}

func TestSumsAreDrawnInEverySize(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d := open(t, "Thistle", size)
		d.Golden("sums")
		d.Press("2")
		d.Type("2mg/kg")
		d.Press("enter")
		d.Type("50mg/mL")
		d.Press("enter")
		d.Type("20")
		d.Press("enter", "enter")
		d.Golden("sums-volume")
	}
}

// Every sum comes prefilled with the weight of the record and marks it: by eye, and 70 days old.
func TestTheRecordsWeightIsThereAndMarked(t *testing.T) {
	for digit, typed := range map[string][]string{
		"2": {"2mg/kg", "50mg/mL"}, "5": {"8%"},
	} {
		d := open(t, "Thistle", layout.Size{W: 120, H: 40})
		assert.True(t, d.Reads("from the record: weight 480 kg, by eye, 70 days old"))
		d.Press(digit)
		for _, text := range typed {
			d.Type(text)
			d.Press("enter")
		}
		if digit == "2" {
			d.Type("20")
		}
		assert.True(t, d.Shows("480 kg"))
		assert.True(t, d.Reads("the weight is a guess by eye"), d.View())
		assert.True(t, d.Reads("70 days old, more than 60; weigh again"))
	}
}

// On the last line s says where the answer comes from; in a field it is a letter.
func TestSourceOfASum(t *testing.T) {
	for _, size := range screentest.Sizes() {
		d := open(t, "Thistle", size)
		d.Press("5")
		d.Type("5-8%")
		d.Press("enter", "enter")
		require.True(t, d.Reads("24 to 38.4 L"), d.View())
		d.Press("s")
		assert.True(t, d.Reads("Where it comes from: fluid deficit"))
		d.Press("pgdown", "pgdown", "pgdown")
		assert.True(t, d.Reads("MSD Veterinary Manual"))
		d.Press("esc", "up", "end")
		d.Type("s")
		assert.False(t, d.Shows("Where it comes from"))
		assert.True(t, d.Shows("480 kgs"))
		d.Press("esc")
		assert.True(t, d.Shows("1 weigh by tape"), "back to the list")
		d.Press("esc")
		assert.True(t, d.Left())
	}
}

// What is missing and what is wrong is said in a sentence; a slip is named.
func TestSlipsOnTheScreen(t *testing.T) {
	d := open(t, "Bracken", layout.Size{W: 80, H: 24})
	d.Press("1")
	assert.True(t, d.Reads("still to be measured: heart girth"))
	d.Type("76cm")
	assert.True(t, d.Reads("did you mean 76 in"), d.View())
	d.Press("backspace", "backspace")
	d.Type("in")
	d.Press("enter", "enter")
	d.Type("67in")
	assert.True(t, d.Reads("533 kg (1175 lb), 90 of 100 animals between 459 and 656 kg"))
}

// A field that is filled in beforehand is written over by the first letter, and what is no answer is refused where it stands.
func TestAFilledFieldIsWrittenOver(t *testing.T) {
	d := open(t, "Thistle", layout.Size{W: 80, H: 24})
	d.Press("4", "enter")
	d.Type("1500mL")
	d.Press("enter")
	d.Type("12 hens")
	d.Press("enter")
	assert.True(t, d.Reads("is no time; did you mean one like 8h or 90min?"), d.View())
	d.Press("ctrl+u")
	d.Type("12h")
	d.Press("enter")
	assert.True(t, d.Shows("10/mL"))
	d.Type("15/mL")
	assert.False(t, d.Shows("10/mL15"), d.View())
	assert.True(t, d.Reads("31 drops a minute"), d.View())
}

// Where the tape goes is read to its end, whatever its length.
func TestAHintIsReadToItsEnd(t *testing.T) {
	d := open(t, "Bracken", layout.Size{W: 120, H: 40})
	d.Press("1", "down", "down")
	assert.True(t, d.Reads("It may be left out."), d.View())
}

// Without a horse the kind is asked, and what is asked follows it; a miniature is sent to the scale.
func TestWithoutAHorse(t *testing.T) {
	d := open(t, "", layout.Size{W: 80, H: 24})
	d.Press("1")
	assert.True(t, d.Shows("kind: "), d.View())
	for range 8 {
		if d.Reads("[miniature]") {
			break
		}
		d.Press("right")
	}
	assert.True(t, d.Reads("weigh it on a scale"), d.View())
	assert.False(t, d.Shows("girth"))
}

// Whatever is pressed, the screen keeps to its window and no key is lost in it.
func TestEverySumAtEverySize(t *testing.T) {
	for _, size := range append(screentest.Sizes(), layout.Size{W: 30, H: 8}) {
		for i := range all.All() {
			d := open(t, "Bracken", size)
			d.Press(string(rune('1' + i)))
			for range 12 {
				d.Type("5")
				d.Press("enter")
				for _, line := range d.Lines() {
					require.LessOrEqual(t, ansi.StringWidth(strings.TrimRight(line, " ")), size.W)
				}
			}
			d.Squeeze()
		}
	}
}
