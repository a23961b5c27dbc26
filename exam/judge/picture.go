package judge

import (
	"cmp"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// judgedVisit is a visit as the judge sees it.
type judgedVisit struct {
	visit   *exam.Visit
	class   exam.Class
	stirred []exam.State
	earlier []exam.Visit
	alike   []*exam.Visit // earlier visits of the same class that count for the own range
	found   []assessment  // in the order of the record
	ended   bool          // the exam is over: what is blank stays so
	units   notation.Units
}

// see prepares a picture without its findings.
func (j *Judge) see(v *exam.Visit, earlier []exam.Visit) *judgedVisit {
	class := v.Class()
	return &judgedVisit{
		visit: v, class: class, stirred: v.Context.NotAtRest(), earlier: earlier, alike: comparable(v, class, earlier),
		ended: v.Closed() || v.Source != "", units: j.units,
	}
}

// look prepares a picture and assesses every finding.
func (j *Judge) look(v *exam.Visit, earlier []exam.Visit) *judgedVisit {
	p := j.see(v, earlier)
	p.found = make([]assessment, 0, len(v.Findings))
	for i := range v.Findings {
		if a, ok := j.assessPlace(p, &v.Findings[i]); ok {
			p.found = append(p.found, a)
		}
	}
	p.ease()
	slices.SortStableFunc(p.found, func(a, b assessment) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.finding.Step, b.finding.Step), cmp.Compare(a.finding.Site, b.finding.Site))
	})
	return p
}

// of lists the findings of a step, in the order of its sites.
func (p *judgedVisit) of(step exam.StepID) []assessment {
	for i := range p.found {
		if p.found[i].finding.Step != step {
			continue
		}
		end := i + 1
		for end < len(p.found) && p.found[end].finding.Step == step {
			end++
		}
		return p.found[i:end]
	}
	return nil
}

// having lists the findings of a step that hold one of the choice keys; without keys, all of them.
func (p *judgedVisit) having(step exam.StepID, keys ...string) []*assessment {
	var out []*assessment
	held := p.of(step)
	for i := range held {
		if len(keys) == 0 || slices.ContainsFunc(keys, held[i].holds) {
			out = append(out, &held[i])
		}
	}
	return out
}

// holds says whether the finding was answered with the choice key, in words or as a score.
func (a *assessment) holds(key string) bool {
	if len(a.finding.Value.Words) > 0 {
		return a.finding.Value.Has(key)
	}
	return slices.ContainsFunc(a.choices, func(c *exam.Choice) bool { return c.Key == key })
}

// atLeast lists the findings of a step at a level or above it.
func (p *judgedVisit) atLeast(step exam.StepID, level exam.Level) []*assessment {
	var out []*assessment
	held := p.of(step)
	for i := range held {
		if held[i].level >= level {
			out = append(out, &held[i])
		}
	}
	return out
}

// number is the finding of a measured step without sites, if its figure is known.
func (p *judgedVisit) number(step exam.StepID) (*assessment, bool) {
	a, ok := p.measured(step)
	if !ok || a.finding.Value.Bound != exam.NoBound {
		return nil, false
	}
	return a, true
}

// measured is number, or a finding of which only a bound is known.
func (p *judgedVisit) measured(step exam.StepID) (*assessment, bool) {
	held := p.of(step)
	if len(held) == 0 || held[0].finding.Value.Number == nil || held[0].unit == notation.NoUnit {
		return nil, false
	}
	return &held[0], true
}

// high is the finding of a measured step that stands above its row's recheck limit, or above usual in a class for
// which no such limit is held.
func (p *judgedVisit) high(step exam.StepID) (*assessment, bool) {
	a, ok := p.measured(step)
	if !ok || a.row == nil || a.side != ranges.SideHigh {
		return nil, false
	}
	_, held := a.row.Recheck.Edge(ranges.SideHigh)
	return a, a.level >= ranges.LevelRecheck || (!held && a.level >= ranges.LevelNote)
}

// everywhere says that every one of the sites, or the one answer for all of them, holds one of the keys.
func (p *judgedVisit) everywhere(step exam.StepID, sites []exam.Site, keys ...string) bool {
	held := p.having(step, keys...)
	if on(held, exam.Overall) {
		return true
	}
	for _, site := range sites {
		if !on(held, site) {
			return false
		}
	}
	return true
}

func on(held []*assessment, site exam.Site) bool {
	return slices.ContainsFunc(held, func(a *assessment) bool { return a.finding.Site == site })
}

// shown writes findings for a person: "temperature 39 C, gut sounds none (left upper, right lower)".
func (p *judgedVisit) shown(groups ...[]*assessment) string {
	var parts []string
	for _, group := range groups {
		for i, a := range group {
			if i > 0 && sameAnswer(group[i-1], a) {
				continue
			}
			text := a.step.Short + " " + a.finding.Value.As(p.units, *a.step).Show(*a.step)
			if sites := sitesOf(group[i:]); sites != "" {
				text += " (" + sites + ")"
			}
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

// sitesOf lists the sites of the run of like answers at the head of a group.
func sitesOf(group []*assessment) string {
	var sites []string
	for i, a := range group {
		if i > 0 && !sameAnswer(group[i-1], a) {
			break
		}
		if a.finding.Site != exam.NoSite {
			sites = append(sites, a.finding.Site.String())
		}
	}
	return strings.Join(sites, ", ")
}

func sameAnswer(a, b *assessment) bool {
	return a.finding.Step == b.finding.Step && len(a.choices) > 0 && slices.Equal(a.finding.Value.Words, b.finding.Value.Words)
}
