package entry

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

func stands3() exam.Step {
	s, _ := steps.Table().ByID("foal.stand")
	return s
}

// foal was born at 08:10; it is noon.
func foal() Options {
	o := options(&clock{noon()})
	o.Horse = exam.Horse{Kind: exam.AnimalHorse, Birth: exam.Birth{At: noon().Add(-230 * time.Minute), Precision: exam.BornMinute}}
	return o
}

func TestEventByTimeOfDayOrAfterTheBirth(t *testing.T) {
	f := New(stands3(), foal())
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, flat(f), "type when it was seen")
	letters(f, "9:02")
	assert.Contains(t, flat(f), "seen at 9:02_")
	assert.Contains(t, flat(f), "4 May 09:02, 52 min after the birth")
	assert.Contains(t, flat(f), "born 08:10, 3 h 50 min ago")
	require.Equal(t, Accepted, send(f, "enter"))
	v := value(t, f)
	assert.Equal(t, []string{exam.EventSeen}, v.Words)
	assert.Equal(t, noon().Add(-178*time.Minute), *v.At)

	f = New(stands3(), foal())
	letters(f, "+1:30")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, "09:40", value(t, f).At.Format("15:04"))
	o := foal()
	o.Before = &exam.Value{Kind: exam.KindEvent, Words: []string{exam.EventSeen}, At: value(t, f).At}
	f = New(stands3(), o)
	require.Equal(t, Accepted, send(f, "enter"), "what stands is kept")
	assert.Equal(t, "09:40", value(t, f).At.Format("15:04"))
	letters(f, "912")
	assert.Equal(t, "09:12", value(t, f).At.Format("15:04"), "the first digit replaces it; the colon may be left out")
}

func TestEventNotYet(t *testing.T) {
	f := New(stands3(), foal())
	require.Equal(t, Accepted, send(f, "up", "enter"))
	assert.Equal(t, []string{exam.EventNotYet}, value(t, f).Words)
	assert.Equal(t, "not yet", value(t, f).Show(stands3()))
	require.Equal(t, Accepted, send(f, "up", "enter"))
	assert.Nil(t, value(t, f).At)
	assert.Equal(t, "seen, time not known", value(t, f).Show(stands3()))
	for _, bad := range []string{"7:00", "25:00", "9:99", "+900"} {
		f = New(stands3(), foal())
		letters(f, bad)
		require.Equal(t, Taken, send(f, "enter"), bad)
	}
	o := foal()
	o.Horse.Birth.Precision = exam.BornDay
	f = New(stands3(), o)
	letters(f, "+40")
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, flat(f), "the minute of birth is not known, so type the time of day")
	assert.Contains(t, flat(f), "The minute of birth is not known; the time")
}

func TestEventGolden(t *testing.T) {
	f := New(stands3(), foal())
	golden(t, "event-empty", f)
	letters(f, "9:02")
	golden(t, "event", f)
}
