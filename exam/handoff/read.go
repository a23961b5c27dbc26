package handoff

import (
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// budget is how many words may still be read.
type budget struct{ left int }

// take says whether a line fits, and then takes its words.
func (b *budget) take(line string) bool {
	n := SpokenWords(line)
	if n > b.left {
		return false
	}
	b.left -= n
	return true
}

// these are the lines of a list that fit.
func (b *budget) these(lines []string) (kept []string) {
	for _, l := range lines {
		if b.take(l) {
			kept = append(kept, l)
		}
	}
	return kept
}

// read fills the sections. What must be read comes first whatever it takes; of the
// rest what is for the veterinarian goes before what a person wrote, that before
// what was not looked at, and that before lesser findings and the background. What
// is for the veterinarian and finds no words is named at least.
func (p *Page) read(in Input) {
	why, more := in.why(p.By)
	danger, request := in.dangerLines(), in.request()
	if d := in.Verdict.Danger; d != nil {
		danger = append(danger, d.Line()+".")
	}
	b := &budget{MostWords - count(why) - count(danger[:min(len(danger), 1)]) - count(request[:1]) - SpokenWords(in.more(p.Worries, 0, anyRoom))}
	vitals := in.readVitals(p.Vitals, b)
	danger = append(danger[:min(len(danger), 1)], b.these(danger[min(len(danger), 1):])...)
	request = append(request[:1], b.these(request[1:])...)

	seen := b.these(more[:min(len(more), 1)])
	comments, missing := in.comments(), in.missing(p)
	kept := min(count(comments[:min(len(comments), 1)]), max(b.left, 0))
	b.left -= kept // what a person wrote is not crowded out by what the program says
	out, next, full := p.readWorries(in, 0, ranges.LevelTell, b)
	b.left += kept
	why = append(append(why, seen...), b.these(more[min(len(more), 1):])...)
	comments = b.these(comments)
	if full { // the words kept for comments may hold one more
		var rest []string
		rest, next, full = p.readWorries(in, next, ranges.LevelTell, b)
		out = append(out, rest...)
	}
	missing = b.these(missing)
	if !full {
		var rest []string
		rest, next, _ = p.readWorries(in, next, ranges.LevelNote, b)
		out = append(out, rest...)
	}
	if p.More = len(p.Worries) - next; p.More > 0 {
		out = append(out, in.more(p.Worries, next, b.left+SpokenWords(in.more(p.Worries, next, anyRoom))))
	}
	if line := in.nothing(p); line != "" && b.take(line) {
		out = append(out, line)
	}
	background := b.these(in.background())
	for _, s := range []Section{
		{Why, why},
		{Dangers, danger},
		{Vitals, vitals},
		{StandOut, out},
		{Rest, slices.Concat(comments, missing, background)},
		{Request, request},
	} {
		if len(s.Lines) > 0 {
			p.Sections = append(p.Sections, s)
			p.Words += count(s.Lines)
		}
	}
}

// readVitals are the lines of the vital signs, which are read whatever they take: with as
// much of the reasons why some were not taken as there are words for.
func (in Input) readVitals(vitals []Vital, b *budget) (lines []string) {
	for _, words := range []int{mostNotDone, fewNotDone, 0} {
		lines = vitalLines(vitals, words)
		if hides(in.Visit.Context) {
			lines = append(lines, said(in.Visit)...)
		}
		if count(lines) <= b.left {
			break
		}
	}
	b.left -= count(lines)
	return lines
}

// readWorries reads findings from one on, as long as they are of the level or
// above and there are words. It returns the lines, where it came to, and whether
// the words ran out. The words of the line that names the rest are kept beside the
// budget: they shrink with every finding that is read whole.
func (p *Page) readWorries(in Input, from int, level exam.Level, b *budget) (lines []string, next int, full bool) {
	rest := SpokenWords(in.more(p.Worries, from, anyRoom))
	for next = from; next < len(p.Worries) && p.Worries[next].Remark.Level >= level; {
		line, n := joined(in, p.Worries[next:])
		said := line == "" || slices.Contains(lines, line)
		after := SpokenWords(in.more(p.Worries, next+n, anyRoom))
		need := after - rest
		if !said {
			need += SpokenWords(line)
		}
		if need > b.left {
			return lines, next, true
		}
		b.left, rest = b.left-need, after
		for i := range n {
			p.Worries[next+i].Read = true
		}
		if next += n; !said {
			lines = append(lines, line)
		}
	}
	return lines, next, false
}

// nothing says that no finding stands out, with how much was looked at: without it
// the sentence would be reassurance that nobody earned.
func (in Input) nothing(p *Page) string {
	switch {
	case len(p.Worries) > 0:
		return ""
	case len(in.Visit.Findings) == len(p.NotDone):
		return "Nothing is measured yet."
	}
	return fmt.Sprintf("No answer so far is out of range, %s.", in.Coverage)
}

func count(lines []string) int {
	n := 0
	for _, l := range lines {
		n += SpokenWords(l)
	}
	return n
}
