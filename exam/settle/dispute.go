package settle

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// OfDisputes lists the horses of a list of which somebody said that they are two, while somebody
// else joined them; neither held the other's line.
func OfDisputes(list []exam.Found, said exam.Joinings, now time.Time) []Matter {
	var out []Matter
	for _, d := range said.InVain() {
		i := slices.IndexFunc(list, func(f exam.Found) bool { return f.Horse.Is(d.Records[0]) })
		if i < 0 {
			continue
		}
		out = append(out, Matter{
			Kind: exam.UnsettledParted, Horse: d.Records[0], Other: d.Records[1], Name: list[i].Horse.Name, At: d.Apart.At, Seqs: []int{},
			Text: notation.CleanNote(Disputed(d, now) + " They are one until somebody decides."),
		})
	}
	return out
}

// Disputed are both sides of a dispute in words, each with who says it and when.
func Disputed(d exam.Dispute, now time.Time) string {
	var one []string
	for _, j := range d.Joins {
		one = append(one, saidBy(j, now))
	}
	return fmt.Sprintf("One horse: %s. Two horses: %s. Neither knew of the other.", strings.Join(one, "; "), saidBy(d.Apart, now))
}

func saidBy(j exam.Joining, now time.Time) string {
	text := j.By + ", " + notation.ShownAt(j.At, now)
	if j.Why != "" {
		text += ", \"" + strings.TrimRight(j.Why, ".") + "\""
	}
	return text
}

// StayOne is the joining that settles a dispute: they are one horse.
func StayOne(d exam.Dispute) exam.Joining { return exam.Joining{Horses: d.Records} }
