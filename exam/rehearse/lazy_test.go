package rehearse

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// A trainee who passes over every step has examined nothing, whatever the reason: no answer is right, every place is a
// fault, and the first thing to do better is not "nothing".
func TestWhoPassesOverAllIsRightNowhere(t *testing.T) {
	for _, c := range builtInCases(t) {
		for _, reason := range exam.Reasons() {
			h := horse(t, c.Name, 3)
			m := marked(t, h, c.Routine, Slips{PassedAll: string(reason)})
			tally := m.Tally()
			assert.Zero(t, tally.Right, "%s, %s", c.Name, reason)
			assert.Equal(t, tally.Asked, tally.NotExamined, c.Name)
			assert.LessOrEqual(t, tally.Excused, len(c.Excused), c.Name)
			assert.NotEmpty(t, m.Better, c.Name)
			assert.NotContains(t, Text(m, 100), "nothing: all that", c.Name)
			own, _ := faultsOf(m)
			assert.GreaterOrEqual(t, len(own), tally.Asked-len(c.Excused), c.Name)
			for _, told := range m.Tell {
				assert.False(t, told.Found, "%s: %s", c.Name, told.Name)
			}
			assert.Equal(t, len(m.Tell) > 0, m.HandOff.Needed && !m.HandOff.Complete, c.Name)
		}
	}
}

// Where a horse cannot be examined, only the reason that holds counts.
func TestAReasonIsCheckedAgainstTheHorse(t *testing.T) {
	walk := exam.Key{Step: "gait.look"}
	h := horse(t, "dapple", 3)
	require.Equal(t, exam.ReasonUnsafe, h.Case.Excused[walk])
	for _, c := range []struct {
		reason  exam.Reason
		excused bool
		holds   exam.Reason
	}{
		{exam.ReasonUnsafe, true, ""},
		{exam.ReasonNoTime, false, exam.ReasonUnsafe},
		{"not a reason", false, exam.ReasonUnsafe},
	} {
		m := &marker{horse: h}
		p := m.passed(walk, c.reason)
		assert.Equal(t, c.excused, p.Excused, c.reason)
		assert.Equal(t, c.holds, p.Holds, c.reason)
	}
	m := &marker{horse: h}
	assert.False(t, m.passed(exam.Key{Step: "gum.colour"}, exam.ReasonUnsafe).Excused, "its gums can be looked at")
}

// In part found, measured wrong, and not found are three things.
func TestInPartMeasuredOffAndNotFoundAreThreeThings(t *testing.T) {
	h := horse(t, "tarn", 3)
	pain, heart, gums := exam.Key{Step: "pain.signs"}, exam.Key{Step: "heart.rate"}, exam.Key{Step: "gum.colour"}
	outcomes := func(s Slips) map[exam.Key]TellMark {
		out := map[exam.Key]TellMark{}
		for _, told := range marked(t, h, "colic-check", s).Tell {
			out[exam.Key{Step: told.Step, Site: told.Site}] = told
		}
		return out
	}
	part := outcomes(Slips{Wrong: map[exam.Key]string{pain: "offfeed, flank, paws", gums: "pink"}, TapFactor: 1.03})
	assert.Equal(t, OutcomeInPart, part[pain].Outcome, "three of four signs")
	assert.True(t, part[pain].Told, "the veterinarian hears of three of them")
	assert.Equal(t, OutcomeMeasuredOff, part[heart].Outcome, "off, at the right level")
	assert.True(t, part[heart].Told)
	assert.Equal(t, OutcomeWrong, part[gums].Outcome)
	assert.False(t, part[gums].Told)
	none := outcomes(Slips{Wrong: map[exam.Key]string{pain: "none"}, Skip: "heart.rate"})
	assert.Equal(t, OutcomeWrong, none[pain].Outcome, "none of four signs")
	assert.Equal(t, OutcomeNotExamined, none[heart].Outcome)
	assert.False(t, none[heart].Found)
}

// A teacher may say which place cannot be examined; another word for the reason is refused with its line.
func TestExcusedIsRead(t *testing.T) {
	pattern, err := CaseFile("dapple")
	require.NoError(t, err)
	bad := strings.Replace(pattern, "gait.look: unsafe", "gait.look: too far", 1)
	_, err = ReadCase(strings.NewReader(bad), "own.yaml", steps.Table(), held(t))
	require.ErrorContains(t, err, "takes one of horse refused, unsafe")
}
