package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
)

// Somebody says that two horses are two while others join them, and neither holds the other's line: that is a dispute until
// somebody who holds both joins them again or parts them.
func TestWhoSaysTwoInVain(t *testing.T) {
	join := func(line exam.Hash, unseen []exam.Hash, horses ...exam.HorseID) exam.Joining {
		return exam.Joining{Line: line, Horses: horses, By: "Ben", Unseen: unseen}
	}
	part := func(line exam.Hash, unseen, undoes []exam.Hash, horses ...exam.HorseID) exam.Joining {
		return exam.Joining{Line: line, Horses: horses, By: "Ann", Apart: true, Unseen: unseen, Undoes: undoes}
	}
	two := part("p", []exam.Hash{"j"}, nil, "a", "b")
	joined := join("j", nil, "a", "b")
	for name, c := range map[string]struct {
		lines exam.Joinings
		want  []exam.Hash // the partings
	}{
		"joined alone":                   {exam.Joinings{joined}, nil},
		"two alone":                      {exam.Joinings{two}, nil},
		"both, the joining first":        {exam.Joinings{joined, two}, []exam.Hash{"p"}},
		"both, the joining later":        {exam.Joinings{part("p", nil, nil, "a", "b"), join("j", []exam.Hash{"p"}, "b", "a")}, []exam.Hash{"p"}},
		"joined by who knew":             {exam.Joinings{part("p", nil, nil, "a", "b"), joined}, nil},
		"parted by who knew":             {exam.Joinings{joined, part("p", nil, []exam.Hash{"j"}, "a", "b")}, nil},
		"joined again by who held both":  {exam.Joinings{joined, two, join("k", nil, "a", "b")}, nil},
		"again, the other way round":     {exam.Joinings{joined, two, join("k", nil, "b", "a")}, nil},
		"again by who held one alone":    {exam.Joinings{joined, two, join("k", []exam.Hash{"p"}, "a", "b")}, []exam.Hash{"p"}},
		"parted by who held both":        {exam.Joinings{joined, two, part("q", nil, []exam.Hash{"j"}, "a", "b")}, nil},
		"one joining of two undone":      {exam.Joinings{joined, join("k", nil, "a", "b"), part("p", []exam.Hash{"k"}, []exam.Hash{"j"}, "a", "b")}, []exam.Hash{"p"}},
		"joined through a third":         {exam.Joinings{join("j", nil, "a", "c"), join("k", nil, "c", "b"), part("p", []exam.Hash{"j", "k"}, nil, "a", "b")}, []exam.Hash{"p"}},
		"again, and that one was undone": {exam.Joinings{joined, two, join("k", nil, "a", "b"), part("q", []exam.Hash{"j"}, []exam.Hash{"k"}, "a", "b")}, []exam.Hash{"p", "q"}},
		"of other horses":                {exam.Joinings{join("j", nil, "a", "c"), part("p", []exam.Hash{"j"}, nil, "a", "b")}, nil},
	} {
		var got []exam.Hash
		for _, d := range c.lines.InVain() {
			got = append(got, d.Apart.Line)
			assert.Equal(t, exam.HorseID("a"), d.Records[0], name)
			assert.Contains(t, d.Records, exam.HorseID("b"), name)
			assert.NotEmpty(t, d.Joins, name)
		}
		assert.Equal(t, c.want, got, name)
	}
}
