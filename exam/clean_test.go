package exam_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// fill writes a text into every field of a value, with one item in each list and map.
func fill(v reflect.Value, text string) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && f.Type != reflect.SliceOf(v.Type()) { // a horse holds its records
				fill(v.Field(i), text)
			}
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), text)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0), text)
	case reflect.Map:
		key, item := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(key, text)
		fill(item, text)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, item)
	default: // numbers stay as they are
	}
}

// moving counts the texts of a value that hold a sign which moves a cursor.
func moving(v reflect.Value) (n int) {
	switch v.Kind() {
	case reflect.String:
		if strings.ContainsRune(v.String(), '\x1b') {
			n++
		}
	case reflect.Struct:
		for i := range v.NumField() {
			n += moving(v.Field(i))
		}
	case reflect.Pointer:
		n = moving(v.Elem())
	case reflect.Slice:
		for i := range v.Len() {
			n += moving(v.Index(i))
		}
	case reflect.Map:
		for each := v.MapRange(); each.Next(); {
			n += moving(each.Key()) + moving(each.Value())
		}
	default:
	}
	return n
}

// A field that is added to an entry, a horse or the settings is cleaned like the others, with nothing written for it.
func TestEveryTextIsCleaned(t *testing.T) {
	const hostile = "a\x1b[31mb"
	var e exam.Entry
	fill(reflect.ValueOf(&e).Elem(), hostile)
	require.Greater(t, moving(reflect.ValueOf(e)), 100)
	clean, err := exam.Clean(e)
	require.NoError(t, err)
	assert.Equal(t, 12, moving(reflect.ValueOf(clean)), "identities are looked up, not shown")
	assert.Equal(t, hostile, e.Opening.Horse.Cautions[0], "what the caller holds is not changed")
	assert.Equal(t, "ab", clean.Opening.Horse.Cautions[0])

	var s exam.Settings
	fill(reflect.ValueOf(&s).Elem(), hostile)
	settings, err := exam.Clean(s)
	require.NoError(t, err)
	assert.Zero(t, moving(reflect.ValueOf(settings)))
}

func TestCleanHoldsToLengths(t *testing.T) {
	long := strings.Repeat("x", 5000)
	e, err := exam.Clean(exam.Entry{Step: exam.StepID(long), Reason: long, Note: long, At: time.Date(2026, 3, 2, 11, 0, 0, 0, time.FixedZone("", 3601))})
	require.NoError(t, err)
	assert.Equal(t, []int{80, notation.MaxLine, notation.MaxNote}, []int{len(e.Step), len(e.Reason), len(e.Note)})
	assert.Equal(t, time.UTC, e.At.Location(), "an offset with seconds cannot be written")

	_, err = exam.Clean(exam.Entry{Value: &exam.Value{Words: make([]string, 65)}})
	require.EqualError(t, err, "a value holds more than any exam does; nothing was saved")
	_, err = exam.Clean(exam.Entry{Injection: &exam.InjectionLine{Checks: make([]exam.Checked, 65)}})
	require.ErrorContains(t, err, "a check list holds more")
}
