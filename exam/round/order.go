package round

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Group is a part of the round; the order is meant.
type Group int

// The groups. A horse that the veterinarian has to be told of is called about before anybody walks on. Very young animals first is common practice; healthy first and sick
// last: Michigan State University, strangles outbreak, and UC Davis, EHV-1
// (published).
const (
	Urgent   Group = iota // for the veterinarian, and not told yet; no sign that may be catching
	Newborn               // under a month
	Foal                  // under six months
	Ordinary              // everybody else
	Signs                 // a sign that may be catching
	Fevers                // a fever
	Suspects              // both
	Infected              // written down as infected or isolated, or put last by a person
)

// String is the group as a heading.
func (g Group) String() string {
	return [...]string{"first of all: tell the vet", "first: under a month", "then: under six months", "then", "late: a sign that may be contagious", "late: fever", "last: fever and a sign that may be contagious", "last of all"}[g]
}

// Last says that hands are washed and gloves changed before and after.
func (g Group) Last() bool { return g >= Signs }

// Source says where the order comes from, for a person.
const (
	SourceTold  = "tell the vet first: most danger signs seen, then most not checked; dull donkeys before all"
	SourceFirst = "common practice: the very young before all others"
	SourceLast  = "healthy first, sick last, separate people and tools: Michigan State University, strangles outbreak; " +
		"UC Davis Center for Equine Health, EHV-1 (published)"
	SourceDays = "a sign counts for 28 days after it was last seen: the time given for EHV-1 where signs were present (second-hand)"
)

// place is where the horse comes, and why.
func (p *plan) place() (Group, string) {
	g, why := p.byAge()
	late, said := p.late()
	if late > g {
		g, why = late, said
	}
	l := p.said.turn
	switch {
	case l == nil && p.urgent != nil && p.urgent.Open && !g.Last():
		g, why = Urgent, p.urgent.Line()
	case l == nil:
	case l.Turn == exam.TurnLast:
		g, why = Infected, fmt.Sprintf("put last by %s on %s: %s", l.By, notation.Shown(l.Day), l.Words)
	case late > Ordinary:
		g, _ = p.byAge()
		why = fmt.Sprintf("put back in order by %s on %s: %s (the record has: %s)", l.By, notation.Shown(l.Day), l.Words, said)
	}
	return g, why
}

// byAge is the place of a healthy horse.
func (p *plan) byAge() (Group, string) {
	class := exam.ClassOf(p.Horse, p.at)
	newborn := []ranges.Class{
		ranges.FoalFirstMonth, ranges.DonkeyFirstDay, ranges.DonkeyNewborn, ranges.DonkeyFirstMonth,
		ranges.MuleFoalFirstDay, ranges.MuleFoalFirstWeek, ranges.MuleFoalFirstMonth,
	}
	if class.FirstWeek() || slices.Contains(newborn, class.Name) {
		return Newborn, fmt.Sprintf("%s old: the very young before all others", p.Horse.AgeWords(p.at))
	}
	if class.Young {
		age := p.Horse.AgeWords(p.at)
		if p.Horse.Birth.Precision == exam.BornFoal {
			return Foal, age + ": foals before grown horses"
		}
		return Foal, age + " old: foals before grown horses"
	}
	return Ordinary, "nothing in the record puts it first or last"
}

// late is the place that findings or words of the record give; Urgent, the first, for none.
func (p *plan) late() (Group, string) {
	if words := p.infected(); words != "" {
		return Infected, words + ": last of all, gloves, its own tools"
	}
	signs := p.signs()
	fever := signs.fever()
	switch {
	case fever != "" && len(signs.others()) > 0:
		return Suspects, fmt.Sprintf("%s, with %s: last, hands off, gloves, its own tools; the veterinarian is told", fever, strings.Join(signs.others(), ", "))
	case fever != "":
		return Fevers, fever + ": after the healthy ones, gloves"
	case len(signs.alone()) > 0:
		return Signs, strings.Join(signs.alone(), ", ") + ": after the healthy ones, gloves"
	}
	return Urgent, ""
}
