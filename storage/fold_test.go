package storage_test

import (
	"errors"
	"fmt"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

func drawText(t *rapid.T, label string) string {
	return rapid.StringN(0, 12, -1).Draw(t, label)
}

func drawTime(t *rapid.T) time.Time {
	minutes := rapid.IntRange(-12*60, 14*60).Draw(t, "offset")
	sec := rapid.Int64Range(-2e9, 4e9).Draw(t, "sec")
	return time.Unix(sec, rapid.Int64Range(0, 999999999).Draw(t, "nsec")).In(time.FixedZone("", minutes*60))
}

func drawFloats(t *rapid.T, label string) []float64 {
	return rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 0, 6).Draw(t, label)
}

func drawValue(t *rapid.T) *exam.Value {
	v := &exam.Value{
		Kind: rapid.SampledFrom(exam.StepKinds()).Draw(t, "kind"), Typed: drawText(t, "typed"), Text: drawText(t, "text"),
		Words: rapid.SliceOfN(rapid.SampledFrom([]string{"moist", "tacky", ""}), 0, 3).Draw(t, "words"),
		Usual: rapid.Bool().Draw(t, "usual"), TrialsS: drawFloats(t, "trials"),
	}
	if rapid.Bool().Draw(t, "has number") {
		v.Number = &notation.Quantity{Value: rapid.Float64().Draw(t, "number"), Unit: notation.Fahrenheit}
	}
	if rapid.Bool().Draw(t, "has count") {
		v.Count = &exam.Count{Method: exam.CountTapped, TapsS: drawFloats(t, "taps"), Held: rapid.IntRange(0, 9).Draw(t, "held")}
		if rapid.Bool().Draw(t, "has answers") {
			v.Count.Answers = []exam.GapAnswer{{AfterTap: 3, Missed: rapid.Bool().Draw(t, "missed")}}
		}
	}
	if rapid.Bool().Draw(t, "has weight") {
		v.Weight = &exam.Weight{Method: exam.WeightTape, Measures: map[string]notation.Quantity{drawText(t, "measure"): {Value: 76, Unit: notation.Inch}}}
	}
	return v
}

func drawEntry(t *rapid.T, v exam.VisitID, soFar []exam.Entry) exam.Entry {
	e := exam.Entry{
		Visit: v, At: drawTime(t), By: "Ann" + drawText(t, "by"), Note: drawText(t, "note"), Reason: drawText(t, "reason"),
		Kind: rapid.SampledFrom([]exam.EntryKind{
			exam.EntryFinding, exam.EntryFinding, exam.EntryFinding, exam.EntryNotDone, exam.EntryNote, exam.EntryContext,
			exam.EntryHandedOff, exam.EntryDecision, exam.EntryInjection, exam.EntryDraw, exam.EntryWatch, exam.EntryAdded,
		}).Draw(t, "entry"),
	}
	switch e.Kind {
	case exam.EntryFinding, exam.EntryNotDone:
		e.Step = exam.StepID(fmt.Sprintf("step.%d", rapid.IntRange(0, 5).Draw(t, "step")))
		e.Site = rapid.SampledFrom([]exam.Site{exam.NoSite, exam.Left}).Draw(t, "site")
		e.Value = drawValue(t)
		for _, old := range soFar {
			if old.Step == e.Step && old.Site == e.Site {
				e.Corrects = old.Seq
			}
		}
	case exam.EntryContext:
		humid := rapid.Float64().Draw(t, "humid")
		e.Context = &exam.Context{States: []exam.State{exam.StateHot}, Humid: &humid, Air: &notation.Quantity{Value: 30, Unit: notation.Celsius}}
		if rapid.Bool().Draw(t, "medicine") {
			e.Context.Medicines, e.Context.Given = []exam.Medicine{exam.ForPain, exam.ToCalm}, drawText(t, "given")
		}
	case exam.EntryHandedOff, exam.EntryDecision, exam.EntryInjection, exam.EntryDraw, exam.EntryWatch:
		drawLines(t, &e)
	default:
	}
	return e
}

// What is read of a visit, open or closed, is exactly the fold of its entries:
// times with offset and nanoseconds, numbers to the last bit.
func TestASnapshotIsTheFoldOfItsEntries(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	rapid.Check(t, func(rt *rapid.T) {
		v, err := r.Begin(opened(h.ID, drawTime(rt)))
		require.NoError(rt, err)
		same := func() {
			entries, err := r.Entries(v.ID)
			require.NoError(rt, err)
			want, err := exam.Fold(entries)
			require.NoError(rt, err)
			got, err := r.Visit(v.ID)
			require.NoError(rt, err)
			require.Equal(rt, want, got)
		}
		var soFar []exam.Entry
		for range rapid.IntRange(0, 12).Draw(rt, "entries") {
			e, err := r.Append(drawEntry(rt, v.ID, soFar))
			if errors.Is(err, exam.ErrRefused) {
				continue // nothing was decided
			}
			require.NoError(rt, err)
			soFar = append(soFar, e)
		}
		same()
		_, err = r.Append(closing(v.ID, drawTime(rt)))
		require.NoError(rt, err)
		same()
		for range rapid.IntRange(0, 3).Draw(rt, "later") {
			e := drawEntry(rt, v.ID, soFar)
			if e.Corrects == 0 {
				e.Kind, e.Step, e.Site, e.Value = exam.EntryAdded, "", "", nil
			}
			e.Amend = &exam.Amendment{Why: exam.AmendReason("late " + drawText(rt, "why"))}
			if _, err := r.Append(e); !errors.Is(err, exam.ErrRefused) {
				require.NoError(rt, err)
			}
			same()
		}
	})
}

// A field that exam gains later must not be lost on the way through a snapshot:
// every field there is, is filled here, and must come back.
func TestASnapshotLeavesNoFieldOut(t *testing.T) {
	var v exam.Visit
	fill(reflect.ValueOf(&v).Elem(), new(int), "text")
	v.Horse.Settles = nil // said to the store alone
	if v.From != nil {
		v.From.Practice.Picture = nil // of the settings alone
	}
	for i := range v.Horse.Joined {
		v.Horse.Joined[i].Settles = nil
	}
	back, err := storage.ThroughSnapshot(v)
	require.NoError(t, err)
	assert.Equal(t, v, back)
}

// fill sets every field to something that is not zero, each differently.
func fill(v reflect.Value, n *int, text string) {
	*n++
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprint(text, " ", *n))
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n))
	case reflect.Float64:
		v.SetFloat(float64(*n) + 0.25)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n, text)
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			v.SetBytes([]byte{byte(*n)})
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(v.Index(0), n, text)
		fill(v.Index(1), n, text)
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(key, n, text)
		fill(value, n, text)
		v.SetMapIndex(key, value)
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			v.Set(reflect.ValueOf(day().Add(time.Duration(*n) * time.Second)))
			return
		}
		for i := range v.NumField() {
			if v.Field(i).Type() != reflect.SliceOf(v.Type()) {
				fill(v.Field(i), n, text)
			}
		}
		for i := range v.NumField() { // what a thing keeps of its own kind: one, without its own
			if v.Field(i).Type() == reflect.SliceOf(v.Type()) {
				v.Field(i).Set(reflect.Append(v.Field(i), v))
			}
		}
	default:
		panic("a kind of field that no test fills: " + v.Kind().String())
	}
}
