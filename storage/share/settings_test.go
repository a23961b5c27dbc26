package share_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/storage/share"
)

func (l *laptop) set(t require.TestingT, key exam.SettingKey, value string) {
	require.NoError(t, l.SaveSetting(exam.Setting{Key: key, Value: []byte(value), By: l.name, At: day()}))
}

func (l *laptop) siteML(t require.TestingT) float64 {
	s, err := l.Settings()
	require.NoError(t, err)
	return s.SiteML
}

// What a laptop set before it was taken out counts, what it sets afterwards does not; what
// it replaced stands again.
func TestASettingOfALaptopThatIsOutDoesNotCount(t *testing.T) {
	stick, c := t.TempDir(), newClinic(7)
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	in := []roster.Statement{c.says(t, ann, false, nil), c.says(t, bea, false, nil)}
	ann.take(t, in...)
	bea.take(t, in...)
	bea.set(t, exam.SettingSiteML, "5")
	bea.exchange(t, stick)
	ann.exchange(t, stick)
	assert.InDelta(t, 5, ann.siteML(t), 0)
	states, err := ann.PracticeSettings()
	require.NoError(t, err)
	assert.Equal(t, []any{"bea", "bea", false}, []any{states[0].InUse().By, states[0].InUse().Laptop, states[0].InUse().Own})
	reach, err := ann.Reach(bea.Key())
	require.NoError(t, err)

	bea.set(t, exam.SettingSiteML, "50")
	bea.exchange(t, stick)
	ann.exchange(t, stick)
	assert.InDelta(t, 50, ann.siteML(t), 0, "nobody knew yet")
	later := states[0].InUse().Line
	states, err = ann.PracticeSettings()
	require.NoError(t, err)
	gone := states[0].InUse().Line
	ann.take(t, c.says(t, bea, true, reach))
	assert.InDelta(t, 5, ann.siteML(t), 0)
	assert.True(t, ann.Said(exam.SettingSiteML, later))
	assert.True(t, ann.Said(exam.SettingSiteML, gone), "it is kept, and does not count")
	ann.sound(t)
}

// rehearse writes a simulated horse; simulated lists their names.
func (l *laptop) rehearse(t require.TestingT, name string) {
	_, err := l.Rehearsals().SaveHorse(exam.Horse{Name: name, Kind: exam.AnimalHorse, Revision: 1}, l.name, day())
	require.NoError(t, err)
}

func (l *laptop) simulated(t require.TestingT) (names []string) {
	list, err := l.Rehearsals().Horses()
	require.NoError(t, err)
	for _, h := range list {
		names = append(names, h.Horse.Name)
	}
	return names
}

// Rehearsals stay where they were made while the practice leaves them out, and go out when it
// does so no more: sealed or not.
func TestRehearsalsThatAreLeftOut(t *testing.T) {
	for name, begin := range map[string]func() (ann, bea *laptop){
		"open": func() (ann, bea *laptop) { return newLaptop(t, "ann"), newLaptop(t, "bea") },
		"sealed": func() (ann, bea *laptop) {
			_, l := sealing(t, "ann", "bea")
			return l[0], l[1]
		},
	} {
		t.Run(name, func(t *testing.T) {
			stick := t.TempDir()
			ann, bea := begin()
			bea.rehearse(t, "Early")
			bea.exchange(t, stick)
			ann.set(t, exam.SettingRehearsals, exam.LeftOut)
			ann.rehearse(t, "Simulated")
			ann.examine(t, 2)
			ann.exchange(t, stick)
			assert.Equal(t, []string{"Simulated"}, ann.simulated(t), "what another sent is not taken")
			known := share.New(stick)
			done, err := known.Exchange(t.Context(), bea)
			require.NoError(t, err)
			assert.Equal(t, 1, done.In.Horses)
			assert.Equal(t, []string{"Early"}, bea.simulated(t))
			bea.rehearse(t, "Late")
			done, err = known.Exchange(t.Context(), bea)
			require.NoError(t, err)
			assert.Zero(t, done.Lines, "the setting came with the exchange")
			assert.Zero(t, done.Waiting)

			ann.set(t, exam.SettingRehearsals, "")
			ann.exchange(t, stick)
			assert.ElementsMatch(t, []string{"Early", "Simulated"}, ann.simulated(t), "at the next exchange")
			_, err = known.Exchange(t.Context(), bea)
			require.NoError(t, err)
			assert.ElementsMatch(t, []string{"Early", "Late", "Simulated"}, bea.simulated(t), "at the exchange that brings the setting")
			ann.exchange(t, stick)
			assert.ElementsMatch(t, []string{"Early", "Late", "Simulated"}, ann.simulated(t))
			same(t, ann, bea)
		})
	}
}

// A laptop comes in while rehearsals are left out. What was sealed of them before it came
// waits for nobody; once they are shared again the others seal them to it.
func TestALaptopComesInWhileRehearsalsAreLeftOut(t *testing.T) {
	stick := t.TempDir()
	c, l := sealing(t, "ann", "bea")
	ann, bea := l[0], l[1]
	ann.rehearse(t, "Early")
	ann.examine(t, 2)
	ann.exchange(t, stick)
	bea.exchange(t, stick)
	bea.set(t, exam.SettingRehearsals, exam.LeftOut)
	cal := newLaptop(t, "cal")
	bea.take(t, c.says(t, cal, false, nil))
	have, err := bea.Roster()
	require.NoError(t, err)
	cal.take(t, have.Said...)
	assert.Equal(t, 6, bea.exchange(t, stick).Lines, "ann's visit is sealed anew, her rehearsal is not")
	in := cal.exchange(t, stick)
	assert.Zero(t, in.Sealed, "nobody will seal the rehearsal anew")
	assert.Equal(t, 1, cal.visits(t))
	ann.exchange(t, stick)

	cal.set(t, exam.SettingRehearsals, "")
	assert.Equal(t, 1, cal.exchange(t, stick).Sealed)
	ann.exchange(t, stick)
	assert.Zero(t, cal.exchange(t, stick).Sealed)
	assert.Equal(t, []string{"Early"}, cal.simulated(t))
	bea.exchange(t, stick)
	same(t, ann, bea, cal)
}
