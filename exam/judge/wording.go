package judge

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// remark puts an assessment into words.
func (j *Judge) remark(p *judgedVisit, a *assessment) exam.Remark {
	if len(j.units) > 0 && a.step != nil && a.milestone == nil && len(a.choices) == 0 && a.finding.Value.Number != nil {
		read := j.asRead(p, *a)
		a = &read
	}
	r := exam.Remark{
		Step: a.finding.Step, Site: a.finding.Site, Level: a.level, Value: a.finding.Value.Show(*a.step),
		Own: a.own, Rank: a.rank,
	}
	switch {
	case a.milestone != nil:
		a.milestoneRemark(&r)
		return r
	case len(a.choices) > 0:
		j.wordsRemark(a, &r)
		return r
	}
	r.Unit = a.unit
	r.Borderline = a.margin > 0
	if a.row != nil {
		r.Low, r.High = a.row.Usual.Low, a.row.Usual.High
		r.Crossed = crossed(a)
		r.Evidence = a.limit.Evidence
		r.Source = j.table.Cite(a.limit.Source)
		r.Practice = a.row.Origin == ranges.OriginPractice
		if a.eased {
			r.Source, r.Evidence = r.Source+"; "+j.gates(a), ranges.CommonPractice
		}
	} else {
		r.Source = ownSource
	}
	r.Why = numberWhy(p, a)
	return r
}

// ownSource stands as the source of a remark that rests on the own range alone.
const ownSource = "the horse's own earlier visits"

func (j *Judge) wordsRemark(a *assessment, r *exam.Remark) {
	var whys []string
	for _, c := range a.choices {
		if c.Why != "" && !slices.Contains(whys, c.Why) {
			whys = append(whys, c.Why)
		}
	}
	r.Why = strings.Join(whys, " ")
	if r.Why == "" {
		r.Why = "This answer is usual."
	}
	r.Source, r.Evidence = j.sourcesOf(a.choices)
}

// sourcesOf cites the sources of choices, each once, with the weakest evidence among them.
func (j *Judge) sourcesOf(choices []*exam.Choice) (source string, evidence exam.Evidence) {
	var cited []string
	for _, c := range choices {
		if c.Source == "" {
			continue
		}
		if text := j.table.Cite(c.Source); !slices.Contains(cited, text) {
			cited = append(cited, text)
		}
		evidence = ranges.Weaker(evidence, c.Evidence)
	}
	return strings.Join(cited, "; "), evidence
}

// crossed names the limit: "tell the vet from 60", "recheck under 37.2", "usual up to 44".
func crossed(a *assessment) string {
	edge, ok := a.limit.Edge(a.side)
	if !ok {
		return ""
	}
	text := notation.FormatNumber(edge, 2)
	levelAlone, _, _ := a.row.Level(a.value)
	if levelAlone <= ranges.LevelNote {
		if a.side == ranges.SideHigh {
			return "usual up to " + text
		}
		return "usual from " + text
	}
	if a.side == ranges.SideHigh {
		return levelAlone.String() + " from " + text
	}
	return levelAlone.String() + " under " + text
}

// numberWhy is one sentence: where the value stands, then what else is to be known or done.
func numberWhy(p *judgedVisit, a *assessment) string {
	parts := []string{whereItStands(p, a)}
	for _, part := range []string{beyond(a), borderline(a), ownWords(a), again(p, a)} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, "; ") + "."
}

func whereItStands(p *judgedVisit, a *assessment) string {
	value := a.figure()
	class := p.class.Name
	if a.row == nil {
		return value + ", and " + orNoRange(a)
	}
	edge, _ := a.limit.Edge(a.side)
	limit := notation.FormatNumber(edge, 2)
	level, _, _ := a.row.Level(a.value)
	switch {
	case level == ranges.LevelUsual && a.row.Usual.Empty():
		return fmt.Sprintf("%s crosses no limit; no usual range is known (%s)", value, class)
	case level == ranges.LevelUsual:
		return fmt.Sprintf("%s is within the usual %s (%s)", value, usualSpan(a.row), class)
	case level == ranges.LevelNote && a.side == ranges.SideHigh:
		return fmt.Sprintf("%s is above the usual %s (%s)", value, usualSpan(a.row), class)
	case level == ranges.LevelNote:
		return fmt.Sprintf("%s is below the usual %s (%s)", value, usualSpan(a.row), class)
	case a.side == ranges.SideHigh:
		return fmt.Sprintf("%s reaches %s, from which %s (%s)", value, limit, asks(level), class)
	}
	return fmt.Sprintf("%s is under %s, below which %s (%s)", value, limit, asks(level), class)
}

func asks(level exam.Level) string {
	if level == ranges.LevelTell {
		return "the veterinarian is told"
	}
	return "it is measured again"
}

func orNoRange(a *assessment) string {
	if a.unjudged != "" {
		return strings.TrimSuffix(a.unjudged, ".")
	}
	return "no range is known for it"
}

// usualSpan writes the usual ends of a row: "28-44 /min", "up to 2 s".
func usualSpan(row *ranges.Row) string {
	low, hasLow := row.Usual.Edge(ranges.SideLow)
	high, hasHigh := row.Usual.Edge(ranges.SideHigh)
	unit := " " + string(row.Unit)
	switch {
	case hasLow && hasHigh:
		return notation.Between(low, high, 2) + unit
	case hasHigh:
		return "up to " + notation.FormatNumber(high, 2) + unit
	case !hasLow:
		return "not known"
	}
	return "from " + notation.FormatNumber(low, 2) + unit
}

func borderline(a *assessment) string {
	if a.margin <= 0 {
		return ""
	}
	return fmt.Sprintf("borderline: accuracy %s /min, so it may be on either side of %s",
		notation.FormatNumber(a.margin, 1), notation.FormatNumber(a.edge, 2))
}

// ownWords sets the value beside the horse's own range, where that says more than the row does.
func ownWords(a *assessment) string {
	if a.own == nil {
		return ""
	}
	span := fmt.Sprintf("%s from %d visits", notation.Between(a.own.Low, a.own.High, 1), a.own.Visits)
	switch {
	case a.far != "":
		return "far " + a.far + " this horse's range of " + span
	case a.level == ranges.LevelNote && a.value >= a.own.Low && a.value <= a.own.High:
		return "it is within this horse's range of " + span
	}
	return ""
}

// again asks for a rate or temperature once more at rest: always after a stir, and after one high count at rest, as
// excitement is its usual cause; what the veterinarian is told does not wait for that.
func again(p *judgedVisit, a *assessment) string {
	if a.level < ranges.LevelNote || !changesWithContext(a.unit) {
		return ""
	}
	if a.eased {
		return justWorked(a)
	}
	if len(p.stirred) > 0 {
		words := make([]string, len(p.stirred))
		for i, s := range p.stirred {
			words[i] = s.String()
		}
		minutes, ok := score.Again(p.visit.Context, a.finding.Step)
		if !ok {
			minutes = score.QuietMin()
		}
		return fmt.Sprintf("repeat at rest in %d-%d min (%s)", minutes[0], minutes[1], strings.Join(words, ", "))
	}
	if a.unit == notation.PerMinute && a.side == ranges.SideHigh && a.level >= ranges.LevelRecheck {
		quiet := score.QuietMin()
		if a.level >= ranges.LevelTell { // nothing that could be read as a reason to wait
			return fmt.Sprintf("tell first, then repeat quietly in %d-%d min (common practice)", quiet[0], quiet[1])
		}
		return fmt.Sprintf("repeat quietly in %d-%d min; one high count is mostly excitement (common practice)", quiet[0], quiet[1])
	}
	return ""
}

// gates cites what the times and rates after work stand on (worked.go).
func (j *Judge) gates(a *assessment) string {
	if a.finding.Step == "breath.rate" {
		return "after work: " + j.table.Cite("TRADE")
	}
	return "after work: " + j.table.Cite("FEI20MIN") + "; " + j.table.Cite("RC02")
}

// justWorked says when a rate that was taken just after work is taken again, and what is told then (worked.go).
func justWorked(a *assessment) string {
	if a.finding.Step == "breath.rate" {
		return fmt.Sprintf("it just worked: count again at rest in %d min. Tell the vet if it rises, is labored, or is still high after %d min",
			score.AfterWorkMin, score.SecondGateMin)
	}
	return fmt.Sprintf("it just worked: count again at rest in %d min. Tell the vet if it rises, is above %d at %d min or above %d at %d min",
		score.AfterWorkMin, score.FirstGateBeats, score.FirstGateMin, score.SecondGateBeats, score.SecondGateMin)
}

func unitWords(u notation.Unit) string {
	if u == notation.NoUnit {
		return "none"
	}
	return string(u)
}
