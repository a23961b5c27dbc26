package intake

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Meanings lists what a column can be, as a map has it: the roles, then the steps at their sites.
func (p *Proposal) Meanings() []string {
	var out []string
	for _, r := range roles() {
		out = append(out, string(r))
	}
	for _, s := range p.steps.All() {
		out = append(out, withSite(p.steps, string(s.ID), exam.NoSite))
		for _, site := range s.Sites {
			out = append(out, string(s.ID)+":"+string(site))
		}
	}
	return append(out, inOneCell()...)
}

// Says is what a column means in words.
func (p *Proposal) Says(means string) string {
	switch is := role(means); {
	case is == roleIgnore:
		return "left out"
	case is == roleNote:
		return "a comment"
	case is == roleBy:
		return "who examined"
	case is == roleBirth:
		return "birth date"
	case is == roleStep:
		return "which finding, one a row"
	}
	if !p.isStep(means) {
		return means
	}
	var words []string
	for _, part := range strings.Split(means, ", ") {
		where, _ := readPlace(p.steps, part)
		name := where.step.Name
		if where.site != exam.NoSite && where.site != exam.Overall {
			name += ", " + string(where.site)
		}
		words = append(words, name)
	}
	if len(words) > 1 && !p.several(means) {
		name, _, _ := strings.Cut(words[0], ",")
		return name + ", all sites"
	}
	return strings.Join(words, " / ")
}

// Spellings are names of horses of the sheet that may be one horse, and that nobody was asked about.
func (p *Proposal) Spellings() []Spelling {
	at := map[role]int{}
	for _, g := range p.Columns {
		at[role(g.Means)] = g.column
	}
	column, ok := at[roleName]
	if !ok {
		return nil
	}
	cell := func(r sheetRow, is role) string {
		if i, ok := at[is]; ok {
			return r.cells[i]
		}
		return ""
	}
	seen := map[string]int{}
	var names []HorseName
	for _, r := range p.s.rows {
		text := notation.CleanLine(r.cells[column], 0)
		if text == "" || isDitto(text) {
			continue
		}
		i, ok := seen[strings.ToLower(text)]
		if !ok {
			i = len(names)
			seen[strings.ToLower(text)] = i
			names = append(names, HorseName{Text: text, Line: r.line, Owner: cell(r, roleOwner), Chip: cell(r, roleChip)})
		}
		names[i].Times++
	}
	return Spellings(names, func(name string) bool {
		for n := range p.Horses {
			if strings.EqualFold(n, name) {
				return true
			}
		}
		return false
	})
}

// Asks says that a question is open.
func (p *Proposal) Asks() bool {
	for _, g := range p.Columns {
		if g.Ask != "" {
			return true
		}
	}
	return !p.means(roleDate) && p.Date == "" || len(p.Spellings()) > 0
}

// Map is the proposal as a map, as ReadMap reads it.
func (p *Proposal) Map() (Map, error) {
	m, err := ReadMap(strings.NewReader(p.YAML()), "the proposed map", p.steps)
	if err != nil {
		return m, fmt.Errorf("the proposal is no map yet: %w", err)
	}
	return m, nil
}
