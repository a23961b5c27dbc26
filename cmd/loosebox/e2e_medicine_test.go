//go:build unix

package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMedicineBeforeTheExamIsSaidBesideFever goes from the start form to the hand-off with keys alone: nothing is
// preselected, what was given is typed, and 38.9 C is for the veterinarian (NC State: over 38.9 C after a medicine for
// pain or fever in the last 24 hours).
func TestMedicineBeforeTheExamIsSaidBesideFever(t *testing.T) {
	t.Parallel()
	data := t.TempDir() + "/record"
	h := sit(t, data)
	h.see("n  add your first horse: a name is enough")
	h.newHorse()
	h.press("b")
	h.see("[begin the exam]")
	h.press("2")
	h.see("[TPR recheck]")
	h.moveTo("down", "> ", "medicine, 24 h")
	h.see("medicine in the last 24 hours")
	h.press("3", "space")
	h.see("[x] for pain or fever")
	h.press("enter")
	h.see("what was given and when; may stay empty")
	h.write("A paste at 07:00")
	h.press("ctrl+s")
	h.seeLine(` 0 of 8  [░█▏▎▍▌▋▊▉ ]+$`)
	h.step("Approach and handler", "1", "enter")
	h.answered(1)
	h.step("Demeanor", "u")
	h.answered(2)
	h.step("Breathing rate", "t", "4", "enter", "1", "4", "enter")
	h.answered(3)
	h.step("Breathing effort, 0 to 4", "u")
	h.answered(4)
	h.step("Rectal temperature")
	h.write("39.0")
	h.press("enter")
	h.answered(5)
	h.see("it hides fever.")
	h.leave()

	out, errOut, code := command(t, data, "visits", "Clover", "--json")
	require.Zero(t, code, errOut)
	id := regexp.MustCompile(`"id": "([0-9a-f-]+)"`).FindStringSubmatch(out)
	require.Len(t, id, 2, out)
	page, errOut, code := command(t, data, "handoff", id[1])
	require.Zero(t, code, errOut)
	assert.Contains(t, page, "Medicine in the last 24 hours: for pain or fever (A paste at 07:00).")
	assert.Regexp(t, `because of: .*temperature`, strings.ToLower(page))
}
