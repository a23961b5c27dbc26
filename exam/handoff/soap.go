package handoff

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// subject is the S of a SOAP note: why the horse is seen and what was told.
func subject(in Input) []string {
	v := in.Visit
	var lines []string
	if v.Reason != "" {
		lines = append(lines, "Seen for: "+notation.CleanNote(v.Reason)+".")
	}
	var states []string
	for _, s := range v.Context.States {
		states = append(states, s.String())
	}
	if text := strings.Join(states, ", "); text != "" {
		lines = append(lines, "Last 30 minutes: "+text+".")
	}
	lines = append(lines, medicine(v)...)
	if v.Context.Note != "" {
		lines = append(lines, notation.CleanNote(v.Context.Note))
	}
	for _, n := range v.Notes {
		if n.Step == "" {
			lines = append(lines, fmt.Sprintf("%s, %s: %s", notation.Clock(n.At, in.Now), n.By, v.NoteText(n)))
		}
	}
	if len(lines) == 0 {
		lines = append(lines, "Nothing was recorded.")
	}
	return lines
}

// object is the O: every finding by body system, those out of range with their
// level, and what was not done.
func object(in Input) []string {
	level := map[exam.Key]exam.Level{}
	for _, r := range in.Verdict.Remarks {
		if k := (exam.Key{Step: r.Step, Site: r.Site}); !r.Combination && r.Level > level[k] {
			level[k] = r.Level
		}
	}
	var lines []string
	for _, system := range exam.Systems() {
		var parts []string
		for _, step := range in.Steps.All() {
			if step.System != system {
				continue
			}
			parts = append(parts, found(step, in.Visit, level)...)
		}
		if len(parts) > 0 {
			lines = append(lines, notation.Capital(system.String())+": "+strings.Join(parts, "; ")+".")
		}
	}
	if len(lines) == 0 {
		lines = append(lines, "Nothing was measured.")
	}
	for _, c := range in.written() {
		if c.name != in.name("note") { // that is a finding and stands above
			lines = append(lines, "Comment, "+c.name+": "+strings.TrimSuffix(c.text, ".")+".")
		}
	}
	return slices.Concat(lines, given(in), counted(in), filed(dangers(in.Visit), in.Now), scores(in))
}

// counted are the danger signs from published studies, with those that were seen and those that were not looked at.
func counted(in Input) []string {
	d := in.Verdict.Danger
	if d == nil {
		return nil
	}
	return []string{strings.Join(append([]string{d.Line()}, d.Lines()...), "; ") + "."}
}

// given are the injections that differ from the veterinarian's order.
func given(in Input) []string {
	var lines []string
	for _, r := range in.Verdict.Remarks {
		if r.Injection > 0 {
			lines = append(lines, notation.CleanNote(fmt.Sprintf("%s [%s]: %s", notation.Capital(r.Value), r.Level, r.Why)))
		}
	}
	return lines
}

// scores are what the findings add up to, each in one line; sources are in the
// review and on the page of the visit.
func scores(in Input) []string {
	var lines []string
	for _, s := range score.Summary(in.Visit, in.Earlier) {
		lines = append(lines, fmt.Sprintf("%s (%s): %s.", s.Name, s.Range, s.Words))
	}
	return lines
}

// found are the findings of a step; sites with the same answer share one.
func found(step exam.Step, v exam.Visit, level map[exam.Key]exam.Level) []string {
	var texts []string
	sites := map[string][]string{}
	for _, f := range v.Findings {
		if f.Step != step.ID {
			continue
		}
		text := answer(step, f, level[f.Key()])
		if _, known := sites[text]; !known {
			texts = append(texts, text)
		}
		sites[text] = append(sites[text], f.Site.String())
	}
	for i, text := range texts {
		where := strings.Join(sites[text], ", ")
		switch {
		case where == "" || len(texts) == 1 && len(sites[text]) == len(step.Sites):
			where = ""
		default:
			where = " " + where
		}
		texts[i] = strings.ToLower(step.Short) + where + " " + text
	}
	return texts
}

func answer(step exam.Step, f exam.Finding, l exam.Level) string {
	if !f.Done() {
		return "not done (" + f.WhyNot() + ")"
	}
	text := notation.CleanNote(f.Value.Show(step))
	if step.Kind == exam.KindWeight && f.Value.Number != nil {
		text = aloud(step, f.Value)
	}
	if l > ranges.LevelUsual {
		text += " [" + l.String() + "]"
	}
	return text
}
