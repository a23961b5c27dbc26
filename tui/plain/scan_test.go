package plain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// A reader types its line at whatever is asked; no question takes it for an answer.
func TestAChipIsToldWhoseItIsAndTheQuestionPutAgain(t *testing.T) {
	x := sit(t)
	all, err := x.store.Horses()
	require.NoError(t, err)
	own, other := "", ""
	for _, f := range all {
		switch {
		case f.Horse.Name == "Bracken":
			own = f.Horse.Chip
		case f.Horse.Chip != "":
			other = f.Horse.Name
		}
	}
	if other == "" {
		h, err := x.store.SaveHorse(exam.Horse{Revision: 1, Name: "Juniper", Kind: exam.AnimalHorse, Sex: exam.Mare, Chip: "001000000098765"}, "Ann Bell", x.now)
		require.NoError(t, err)
		other = h.Name
	}
	before := x.visit().Entries
	out, err := x.typed(func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) },
		own, "\x02"+own+"\x03", "001000000098765", "001000000000777", "LA "+own, "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Equal(t, before, x.visit().Entries, "not saved yet: check the line under the")
	assert.Equal(t, 3, strings.Count(out, "Right horse: this is the chip of Bracken."), out)
	assert.Contains(t, out, "Wrong horse: this is the chip of "+other+", not of Bracken.")
	assert.Contains(t, out, "No horse in the record has chip 001000000000777.")
	lines := strings.Split(out, "\n")
	n := 0
	for i, line := range lines {
		if strings.HasPrefix(line, "> ") && i > 0 {
			assert.Contains(t, lines[i-1], "?", "the question stands before each answer")
			n++
		}
	}
	assert.Equal(t, 6, n)
}

func TestPlainChipAtRightHorse(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	own := x.visit().Horse.Chip
	_, err := x.store.SaveHorse(exam.Horse{Revision: 1, Name: "Juniper", Kind: exam.AnimalHorse, Sex: exam.Mare, Chip: "001000000098765"}, "Ann Bell", x.now)
	require.NoError(t, err)
	lines := append(vaccine()[:14:14], "001000000098765", "c", "understood", "001000000000777", "m", "understood", own, "quit")
	out, err := x.typed((*plain.Session).Inject, lines...)
	require.ErrorIs(t, err, plain.ErrLeft, out)
	assert.Contains(t, out, "Wrong horse: this is the chip of Juniper, not of Bracken.")
	assert.Equal(t, 4, strings.Count(out, "Type understood to go on."), "no other line counts: "+out)
	assert.Contains(t, out, "No horse in the record has chip 001000000000777. Bracken has "+own)
	assert.Contains(t, out, "Right horse: this is the chip of Bracken.")
	assert.Contains(t, out[strings.Index(out, "Right horse: this is"):], "Right product")
	assert.Equal(t, 3, strings.Count(out, "Right horse: chip read, or markings compared"), out)
}

// Behind the first point the chip of another horse stops as well: that answer is removed and asked again, and at the
// other questions of a needle nothing goes on before it is understood.
func TestPlainChipOfAnotherHorseBehindTheFirstPoint(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	own := x.visit().Horse.Chip
	lines := append(vaccine()[:14:14], own, "p", "001000000000777", "d", "understood", "d", "m")
	out, err := x.typed((*plain.Session).Inject, append(lines, "quit")...)
	require.ErrorIs(t, err, plain.ErrLeft, out)
	assert.Contains(t, out, "No horse in the record has chip 001000000000777. Bracken has "+own)
	assert.Equal(t, 2, strings.Count(out, "Type understood to go on."), "no other line counts: "+out)
	assert.Equal(t, 1, strings.Count(out, "The first answer is removed"), out)
	assert.Equal(t, 2, strings.Count(out, "Right horse: chip read, or markings compared"), out)
	assert.Equal(t, 2, strings.Count(out, "Right dose and unit"), out)
	assert.Contains(t, out[strings.Index(out, "is removed"):], "A second person checked", "and the list goes on behind it")
}

// The code of a package fills in the lines of an order; what can be read in two ways is
// asked, and at any other question it is no answer.
func TestPlainCodeOfAPackage(t *testing.T) {
	x := sit(t, screentest.Tetanus())
	lines := append([]string{"010950600013435210A1B221XYZ9", "2", "", "", "", "", "]d2010950600013435217270228\x1d10LT-4471", "", "", "", ""}, vaccine()[2:]...)
	out, err := x.typed((*plain.Session).Inject, append(lines, "quit")...)
	require.Error(t, err)
	assert.Contains(t, out, "The code can be read in more than one way. Which one does the label say?")
	assert.Contains(t, out, "Filled in: item 09506000134352, lot A1B2, serial XYZ9. Compare it with the label.")
	assert.Contains(t, out, "Filled in: item 09506000134352, lot LT-4471, use by 28 Feb 2027.")
}

func TestPlainCodeElsewhere(t *testing.T) {
	x := sit(t)
	before := x.visit().Entries
	out, err := x.typed(func(s *plain.Session, id exam.VisitID, _ int) error { return s.Exam(id) }, "]d2010950600013435210A1", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	assert.Equal(t, before, x.visit().Entries)
	assert.Contains(t, out, "A scanner sent the code of a package: item 09506000134352, lot A1.")
}
