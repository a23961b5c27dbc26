package intake

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam/notation"
)

// YAML writes the proposal as a map that ReadMap takes as it stands, with the reason of each line behind it. A question
// that is open stands as a line that begins with ASK.
func (p *Proposal) YAML() string {
	var b strings.Builder
	line := func(format string, args ...any) { _, _ = fmt.Fprintf(&b, format+"\n", args...) } // a Builder does not fail
	line("# A map for %s, as it was looked at: %s. Read each line; change what is wrong.", comment(p.File), notation.Counted(p.Rows, "row"))
	for _, n := range p.Notices {
		line("# %s", comment(n))
	}
	var file []string
	if p.Charset != "" {
		file = append(file, "charset: "+string(p.Charset))
	}
	if p.Sheet != "" {
		file = append(file, "sheet: "+yamlText(p.Sheet))
	}
	if len(file) > 0 {
		line("file: {%s}", strings.Join(file, ", "))
	}
	if !p.means(roleKind) {
		line("horse:\n  kind: %s   # no column says the kind", yamlText(p.Kind))
	}
	if !p.means(roleBy) || !p.means(roleDate) {
		line("visit:")
		if !p.means(roleBy) {
			line("  by: %s   # no column says who examined", yamlText(p.By))
		}
		if !p.means(roleDate) && p.Date != "" {
			line("  date: %s   # no column says when", yamlText(p.Date))
		} else if !p.means(roleDate) {
			line("  # ASK: no column says when the exams were; write the day of all of them here, such as 2019-05-04\n  date: ask")
		}
	}
	if len(p.Horses) > 0 {
		line("horses:")
		names := make([]string, 0, len(p.Horses))
		for n := range p.Horses {
			names = append(names, n)
		}
		slices.Sort(names)
		for _, n := range names {
			line("  %s: %s", yamlText(n), yamlText(p.Horses[n]))
		}
	}
	for _, s := range p.Spellings() {
		line("# ASK: is %s (line %d) the horse %s (line %d) in another spelling? For one horse write %s, for two write %s",
			comment(s.Rare.Text), s.Rare.Line, comment(s.Often.Text), s.Often.Line,
			"horses: {"+yamlText(s.Rare.Text)+": "+yamlText(s.Often.Text)+"}", "horses: {"+yamlText(s.Rare.Text)+": "+yamlText(s.Rare.Text)+"}")
	}
	line("columns:")
	for _, g := range p.Columns {
		p.column(line, g)
	}
	return b.String()
}

func (p *Proposal) means(r role) bool {
	return slices.ContainsFunc(p.Columns, func(g *Guess) bool { return g.Means == string(r) })
}

// comment is a text that ends with its line.
func comment(text string) string { return notation.CleanLine(text, 300) }

func (p *Proposal) column(line func(string, ...any), g *Guess) {
	line("  # %s", comment(g.Why+sampled(g)))
	if g.Ask != "" {
		line("  # ASK: %s", notation.CleanLine(g.Ask, 600))
	}
	if g.Also != "" {
		line("  # ASK: %s; with a comma behind the other answer", notation.CleanLine(g.Also, 600))
	}
	name := yamlText(g.Name)
	if g.Means == string(roleNote) {
		line("  %s: {note: %s}", name, yamlText(g.Name))
		return
	}
	if !p.isStep(g.Means) {
		p.roleLine(line, g, name)
		return
	}
	parts := strings.Split(g.Means, ", ")
	if len(parts) > 1 {
		quoted := make([]string, len(parts))
		for i, part := range parts {
			quoted[i] = yamlText(part)
		}
		line("  %s:\n    steps: [%s]", name, strings.Join(quoted, ", "))
	} else {
		line("  %s:\n    step: %s", name, yamlText(g.Means))
	}
	if g.Unit != "" {
		line("    unit: %s", g.Unit)
	}
	switch {
	case g.Split != "" && g.Ask != "":
		line("    split: %s", askWord)
	case g.Split != "":
		line("    split: %s", yamlText(g.Split))
	}
	if g.Heavy != "" {
		line("    weights: %s", g.Heavy)
	}
	p.answers(line, g, parts)
	line("    else: %s   # any other word is kept beside a step not done", asWritten)
}

func (p *Proposal) roleLine(line func(string, ...any), g *Guess, name string) {
	if g.Format == "" && !g.Above && len(g.Words) == 0 && g.Means != string(roleStep) && g.Means != string(roleValue) {
		line("  %s: %s", name, g.Means)
		return
	}
	line("  %s:\n    is: %s", name, g.Means)
	if g.Format != "" {
		line("    format: %s", g.Format)
	}
	if g.Above {
		line("    blank: %s", asAbove)
	}
	p.answers(line, g, []string{g.Means})
	if g.Means == string(roleValue) {
		line("    else: %s", asWritten)
	}
}

// answers writes the words of a column with how often each is there. A word that is kept as written is a comment, to be
// given an answer.
func (p *Proposal) answers(line func(string, ...any), g *Guess, parts []string) {
	headed := false
	for _, w := range g.Words {
		if w.Becomes == "" {
			line("      # %s (%s): as written", comment(w.Text), notation.Counted(w.Count, "time"))
			continue
		}
		becomes := yamlText(w.Becomes)
		if len(parts) > 1 {
			if w.Becomes != "usual" && !strings.HasPrefix(w.Becomes, "not done") {
				line("      # %s (%s): as written, because it does not say on which side", comment(w.Text), notation.Counted(w.Count, "time"))
				continue
			}
			all := make([]string, len(parts))
			for i, part := range parts {
				all[i] = yamlText(part) + ": " + becomes
			}
			becomes = "{" + strings.Join(all, ", ") + "}"
		}
		if !headed {
			line("    values:")
			headed = true
		}
		line("      %s: %s   # %s", yamlText(w.Text), becomes, notation.Counted(w.Count, "time"))
	}
}

func sampled(g *Guess) string {
	if len(g.Sample) == 0 || len(g.Words) > 0 {
		return ""
	}
	return ": " + strings.Join(g.Sample, ", ")
}
