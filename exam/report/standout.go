package report

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// mostStandOut is how many lines a level has on the first page; the details have all.
const mostStandOut = 9

// standOut groups what stands out by level, each thing once: sites that were found alike are one line, what a
// combination of the same level or a higher one is made of is said there, and notes are one line together.
func (p Page) standOut(w *writer) {
	p.verdict(w, "what stands out")
	for _, level := range []exam.Level{ranges.LevelTell, ranges.LevelRecheck} {
		lines := p.grouped(level)
		for _, l := range lines[:min(len(lines), mostStandOut)] {
			w.levelled(level, fmt.Sprintf("%-13s", level), l)
		}
		if n := len(lines) - mostStandOut; n > 0 {
			w.levelled(level, fmt.Sprintf("%-13s", level), fmt.Sprintf("%d more in the details", n))
		}
	}
	var notes []string
	for _, g := range p.groups(ranges.LevelNote) {
		notes = append(notes, notation.Uncapital(g.named(p)))
	}
	if len(notes) > 0 {
		w.levelled(ranges.LevelNote, fmt.Sprintf("%-13s", ranges.LevelNote), strings.Join(notes, "; "))
	}
}

// group is remarks of one step that say the same.
type group struct {
	remark exam.Remark
	sites  []string
}

func (p Page) grouped(level exam.Level) []string {
	var out []string
	for _, g := range p.groups(level) {
		text := g.named(p)
		out = append(out, text+whyOf(g.remark, firstSentence(g.remark.Why)))
	}
	return out
}

// whyOf is why something stands out, behind its value: where the sentence begins with the value, that is not said twice.
func whyOf(r exam.Remark, why string) string {
	if rest, ok := cutFold(why, notation.CleanNote(r.Value)+" "); ok && r.Value != "" && !r.Borderline {
		return " " + rest
	}
	if why == "" {
		return ""
	}
	return ": " + why
}

// groups are the remarks of a level, combinations first as the judge has them.
func (p Page) groups(level exam.Level) []group {
	var out []group
	for _, r := range p.Verdict.Remarks {
		if r.Level != level || p.saidElsewhere(r) {
			continue
		}
		i := slices.IndexFunc(out, func(g group) bool {
			o := g.remark
			return !r.Combination && !o.Combination && r.Injection == 0 && o.Injection == 0 && o.Step == r.Step && o.Value == r.Value
		})
		if i < 0 {
			out = append(out, group{remark: r})
			i = len(out) - 1
		}
		if r.Site != exam.NoSite {
			out[i].sites = append(out[i].sites, r.Site.String())
		}
	}
	return out
}

// saidElsewhere says that a remark is part of a combination that stands as high.
func (p Page) saidElsewhere(r exam.Remark) bool {
	if r.Combination || r.Injection > 0 {
		return false
	}
	return slices.ContainsFunc(p.Verdict.Remarks, func(c exam.Remark) bool {
		return c.Combination && c.Level >= r.Level && len(c.Of) > 1 && slices.Contains(c.Of, exam.Key{Step: r.Step, Site: r.Site})
	})
}

// named is what stands out with its value: the name is not said twice.
func (g group) named(p Page) string {
	r := g.remark
	name := p.name(exam.Key{Step: r.Step})
	if r.Combination || r.Injection > 0 {
		if value := notation.CleanNote(r.Value); value != "" {
			return notation.Capital(value)
		}
		return name
	}
	if len(g.sites) > 0 {
		name += ", " + strings.Join(g.sites, ", ") + ","
	}
	value := notation.CleanNote(r.Value)
	if rest, ok := cutFold(value, p.name(exam.Key{Step: r.Step})+" "); ok {
		value = rest
	}
	if r.Borderline {
		value += " (borderline)"
	}
	if strings.ContainsAny(name, "0123456789") { // "body condition, 1 to 9: 7 fleshy"
		return name + ": " + value
	}
	return strings.TrimSpace(name + " " + value)
}

// cutFold takes a beginning off a text, whatever its case.
func cutFold(text, head string) (string, bool) {
	if len(text) >= len(head) && strings.EqualFold(text[:len(head)], head) {
		return text[len(head):], true
	}
	return text, false
}

func firstSentence(text string) string {
	head, _, _ := strings.Cut(notation.CleanNote(text), ". ")
	return strings.TrimSuffix(head, ".")
}
