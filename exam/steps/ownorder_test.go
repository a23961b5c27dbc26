package steps

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
)

func TestAnOwnOrderIsNamedAfterItsPerson(t *testing.T) {
	r, _ := Find(Routines(), Default)
	groups := r.Groups()
	slices.Reverse(groups)
	for _, c := range []struct{ person, name, title string }{
		{"Ann Bell", "full-exam-ann-bell", "Full exam, Ann Bell"},
		{"", "my-full-exam", "My full exam"},
		{"Zoë O'Hara", "full-exam-zo-o-hara", "Full exam, Zoë O'Hara"},
		{"日本", "my-full-exam", "My full exam"},
		{"A very long name that nobody has, with more words", "full-exam-a-very-long-name-that-nobody-h", "Full exam, A very long name th"},
	} {
		own := OwnOrder(r, groups, c.person)
		assert.Equal(t, c.name, own.Name)
		assert.Equal(t, c.title, own.Title)
		assert.ElementsMatch(t, r.Asks, own.Asks, "nothing is lost")
		assert.True(t, own.Own)
		again := OwnOrder(own, own.Groups(), c.person)
		assert.Equal(t, len(own.Asks), len(again.Asks))
	}
	own := OwnOrder(r, groups, "Ann Bell")
	assert.Equal(t, own.Name, OwnOrder(own, own.Groups(), "Ann Bell").Name, "her own order is changed, not copied")
	assert.Equal(t, "full-exam-ann-bell-bo", OwnOrder(own, own.Groups(), "Bo").Name, "another person's is not overwritten")
}

func TestABuiltInOrderNeedsNoCaution(t *testing.T) {
	for _, r := range Routines() {
		if r.Name != "weight-and-condition" {
			assert.Empty(t, OrderCautions(r.Asks, Table()), r.Name)
		}
	}
	r, _ := Find(Routines(), Default)
	groups := r.Groups()
	slices.Reverse(groups)
	assert.Len(t, OrderCautions(slices.Concat(groups...), Table()), 3)
	for i, a := range r.Asks {
		from, n := r.Area(i)
		assert.Contains(t, r.Asks[from:from+n], a)
		assert.NotEmpty(t, r.Asks[from].Heading)
	}
	assert.True(t, r.OneSite(at(r, "hoof.heat")))
	assert.False(t, r.OneSite(at(r, "gut.sounds")))
	assert.False(t, exam.Routine{}.OneSite(0))
}
