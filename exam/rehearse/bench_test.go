package rehearse

import (
	"testing"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// A frame that draws the pulse, a horse, the marks: what screens wait for.
func BenchmarkFrame(b *testing.B) {
	h := horse(b, "clover", 1)
	for b.Loop() {
		h.Beats(3000, 3060)
		h.Sounds(exam.RightUpper, 3000, 3060)
		h.Moves(3000, 3060)
	}
}

func BenchmarkNew(b *testing.B) {
	c, table, rows := horse(b, "tarn", 1).Case, steps.Table(), held(b)
	for b.Loop() {
		if _, err := New(c, 1, opened(), table, rows); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCases(b *testing.B) {
	table, rows := steps.Table(), held(b)
	for b.Loop() {
		if _, err := Cases(table, rows); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMark(b *testing.B) {
	h, r, j := horse(b, "tarn", 1), routineOf(b, "full-exam"), judging(b)
	entries := rehearsal(b, h, r, Slips{})
	for b.Loop() {
		m, err := Mark(h, r, entries, j)
		if err != nil {
			b.Fatal(err)
		}
		Text(m, 80)
	}
}

func BenchmarkSoundOfAMinute(b *testing.B) {
	h := horse(b, "merrow", 1)
	for b.Loop() {
		h.Sound(exam.Key{Step: "heart.murmur", Site: exam.Left}, 0, 60)
	}
}
