package list_test

import (
	"strconv"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"

	"loosebox/tui/keys"
	"loosebox/tui/screen/list"
)

func press(t tea.KeyType) keys.Press { return keys.Press{KeyMsg: tea.KeyMsg{Type: t}} }

func TestOnlyRowsInSightAreDrawn(t *testing.T) {
	var l list.List
	const count = 10000
	drawn := 0
	draw := func() []string {
		drawn = 0
		return l.Draw(count, 10, func(i int, here bool) string {
			drawn++
			if here {
				return ">" + strconv.Itoa(i)
			}
			return strconv.Itoa(i)
		})
	}
	assert.Equal(t, ">0", draw()[0])
	assert.Equal(t, 10, drawn)
	for range 12 {
		assert.True(t, l.Move(press(tea.KeyDown), count))
	}
	assert.Equal(t, ">12", draw()[9], "the cursor stays in sight")
	assert.True(t, l.Move(press(tea.KeyPgDown), count))
	assert.Equal(t, 21, l.Cursor)
	assert.True(t, l.Move(press(tea.KeyEnd), count))
	assert.Equal(t, ">9999", draw()[9])
	assert.Zero(t, l.Below(count))
	assert.Equal(t, 9990, l.Above())
	assert.True(t, l.Move(press(tea.KeyHome), count))
	assert.True(t, l.Move(press(tea.KeyUp), count))
	assert.Zero(t, l.Cursor)
	assert.False(t, l.Move(press(tea.KeyEnter), count))
	assert.Empty(t, l.Draw(0, 10, func(int, bool) string { return "x" }))
	assert.Empty(t, l.Draw(5, 0, func(int, bool) string { return "x" }))
	l.Cursor = 99
	l.Keep(3)
	assert.Equal(t, 2, l.Cursor)
}
