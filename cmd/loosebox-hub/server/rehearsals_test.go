package server_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam"
)

// rehearse writes a simulated horse; simulated lists their names.
func (m *mate) rehearse(name string) {
	m.t.Helper()
	_, err := m.Rehearsals().SaveHorse(exam.Horse{Name: name, Kind: exam.AnimalHorse, Revision: 1}, m.Name, trial.Day())
	require.NoError(m.t, err)
}

func (m *mate) simulated() (names []string) {
	m.t.Helper()
	list, err := m.Rehearsals().Horses()
	require.NoError(m.t, err)
	for _, h := range list {
		names = append(names, h.Horse.Name)
	}
	return names
}

// leaves sets whether the practice leaves rehearsals out.
func (m *mate) leaves(value string) {
	m.t.Helper()
	require.NoError(m.t, m.SaveSetting(exam.Setting{Key: exam.SettingRehearsals, Value: []byte(value), By: m.Name, At: trial.Day()}))
}

// Rehearsals do not go to the hub, and are not taken from it, while the practice leaves them
// out. What was passed over is taken at the next exchange once it does so no more, over the
// same connection, though nothing else is new: sealed or not.
func TestRehearsalsThatAreLeftOut(t *testing.T) {
	for name, begin := range map[string]func(testing.TB, ...string) (*yard, []*mate){"open": open, "sealed": sealed} {
		t.Run(name, func(t *testing.T) {
			_, l := begin(t, "ann", "bea")
			ann, bea := l[0], l[1]
			bea.rehearse("Early")
			bea.share()
			ann.leaves(exam.LeftOut)
			ann.rehearse("Simulated")
			ann.examine(1)
			ann.share()
			assert.Equal(t, []string{"Simulated"}, ann.simulated())
			bea.share()
			assert.Equal(t, []string{"Early"}, bea.simulated())
			bea.rehearse("Late")
			assert.Zero(t, bea.share().Lines, "the setting came by the hub")

			ann.leaves("")
			ann.share()
			assert.ElementsMatch(t, []string{"Early", "Simulated"}, ann.simulated(), "at the next exchange")
			bea.share()
			assert.ElementsMatch(t, []string{"Early", "Late", "Simulated"}, bea.simulated(), "at the exchange that brings the setting")
			ann.share()
			assert.ElementsMatch(t, []string{"Early", "Late", "Simulated"}, ann.simulated())
			same(l...)
		})
	}
}

// A laptop comes in while rehearsals are left out. What was sealed of them before it came is
// not counted as what it cannot open; once they are shared again the others seal them to it.
func TestALaptopComesInWhileRehearsalsAreLeftOut(t *testing.T) {
	y, l := sealed(t, "ann", "bea")
	ann, bea := l[0], l[1]
	ann.rehearse("Early")
	ann.examine(1)
	ann.share()
	bea.share()
	cal := y.laptop("cal")
	y.again(func() {})
	assert.Equal(t, 1+4, cal.share().Sealed)
	bea.leaves(exam.LeftOut)
	require.NoError(t, bea.Join(y.practice))
	bea.share()
	assert.Zero(t, cal.share().Sealed, "nobody will seal the rehearsal anew")
	list, err := cal.Recent(0)
	require.NoError(t, err)
	assert.Len(t, list, 1)
	assert.Empty(t, cal.simulated())
	ann.share()

	cal.leaves("")
	assert.Equal(t, 1, cal.share().Sealed)
	ann.share()
	assert.Zero(t, cal.share().Sealed)
	assert.Equal(t, []string{"Early"}, cal.simulated())
	bea.share()
	same(ann, bea, cal)
}
