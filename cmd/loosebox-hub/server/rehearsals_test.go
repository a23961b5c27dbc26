package server_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/loosebox-hub/trial"
	"loosebox/exam"
)

// Rehearsals do not go to the hub, and are not taken from it, while the practice leaves them
// out. What was passed over is read again when it does so no more.
func TestRehearsalsThatAreLeftOut(t *testing.T) {
	_, l := open(t, "ann", "bea")
	ann, bea := l[0], l[1]
	rehearse := func(m *mate, name string) {
		_, err := m.Rehearsals().SaveHorse(exam.Horse{Name: name, Kind: exam.AnimalHorse, Revision: 1}, m.Name, trial.Day())
		require.NoError(t, err)
	}
	rehearsed := func(m *mate) (names []string) {
		list, err := m.Rehearsals().Horses()
		require.NoError(t, err)
		for _, h := range list {
			names = append(names, h.Horse.Name)
		}
		return names
	}
	set := func(value string) {
		require.NoError(t, ann.SaveSetting(exam.Setting{Key: exam.SettingRehearsals, Value: []byte(value), By: "Ann", At: trial.Day()}))
	}
	rehearse(bea, "Early")
	bea.share()
	set(exam.LeftOut)
	rehearse(ann, "Simulated")
	ann.examine(1)
	ann.share()
	assert.Equal(t, []string{"Simulated"}, rehearsed(ann))
	bea.share()
	assert.Equal(t, []string{"Early"}, rehearsed(bea))
	rehearse(bea, "Late")
	assert.Zero(t, bea.share().Lines, "the setting came by the hub")

	set("")
	ann.share()
	bea.examine(1)
	bea.share()
	ann.share()
	bea.share()
	assert.ElementsMatch(t, []string{"Early", "Late", "Simulated"}, rehearsed(ann))
	same(l...)
}
