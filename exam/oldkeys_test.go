package exam_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// A stored line says its keys as they were when it was signed; it reads as the keys of today, and is written as these.
func TestLinesOfBeforeSchema9ReadAsTodaysKeys(t *testing.T) {
	entry := func(text string) exam.Entry {
		t.Helper()
		var e exam.Entry
		require.NoError(t, json.Unmarshal([]byte(text), &e))
		return e
	}
	for old, want := range map[string]exam.InjectionPhase{
		"order and check list": exam.InjectionReady, "needle in": exam.InjectionNeedleIn, "aspirated, clear": exam.InjectionClear,
		"aspirated, blood": exam.InjectionBlood, "blood drips, no pulse": exam.InjectionInVein, "blood pulses": exam.InjectionPulsing,
		"needle out, not in place": exam.InjectionNotFound, "given": exam.InjectionGiven, "stopped": exam.InjectionStopped,
		"noted from earlier": exam.InjectionNoted,
	} {
		assert.Equal(t, want, entry(`{"injection":{"phase":"`+old+`"}}`).Injection.Phase, old)
		assert.True(t, slices.Contains(exam.InjectionPhases(), want) || want == exam.InjectionNoted)
	}
	for old, want := range map[string]exam.DrawPhase{
		"order": exam.DrawReady, "needle in": exam.DrawNeedleIn, "needle out, no blood": exam.DrawMissed, "tube filled": exam.DrawTube,
		"drawn": exam.DrawDone, "stopped": exam.DrawStopped,
	} {
		assert.Equal(t, want, entry(`{"draw":{"phase":"`+old+`"}}`).Draw.Phase, old)
	}
	for old, want := range map[string]exam.WatchPhase{
		"begun": exam.WatchBegun, "ended, nothing seen": exam.WatchQuiet, "reaction": exam.WatchReaction,
		"left before the end": exam.WatchLeftEarly, "declined": exam.WatchDeclined,
	} {
		assert.Equal(t, want, entry(`{"watch":{"phase":"`+old+`"}}`).Watch.Phase, old)
	}
	for old, want := range map[string]exam.Without{"given by the veterinarian": exam.OwnHands, "ordered aloud in an emergency": exam.Emergency} {
		assert.Equal(t, want, entry(`{"injection":{"phase":"given","order":{"without_decision":"`+old+`"}}}`).Injection.Order.Without, old)
	}
	for old, want := range map[string]exam.ConsentHow{
		"said, here": exam.ConsentSaid, "said, by telephone": exam.ConsentByTelephone, "in writing": exam.ConsentWritten,
	} {
		assert.Equal(t, want, entry(`{"formality":{"consent":{"how":"`+old+`"}}}`).Formality.Consent.How, old)
	}
	for _, p := range exam.InjectionPhases() {
		text, err := json.Marshal(exam.Entry{Injection: &exam.InjectionLine{Phase: p}})
		require.NoError(t, err)
		assert.Equal(t, p, entry(string(text)).Injection.Phase, "a key of today reads as itself")
	}
}
