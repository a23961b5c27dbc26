package exam

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"loosebox/exam/notation"
)

// The most that a decision may say; more is a slip.
const (
	mostTimes = 20
	mostSites = 10
	mostApart = 14 * 24.0 // hours
)

var (
	timesForm = regexp.MustCompile(`^(\d{1,3})(?:x|times|doses)`)
	sitesForm = regexp.MustCompile(`^(\d{1,3})sites?`)
	apartForm = regexp.MustCompile(`^(\d{1,4}(?:[.,]\d+)?)(hours|hour|hrs|h|minutes|min|days|day|d)`)
	fillForm  = regexp.MustCompile(`^(?:,|;|at|least|apart|every|each|between|in|over|and)`)
)

// Often is how often and how far apart a dose is given, and in how many sites, in
// words: "3 times, at least 12 h apart". Empty for one dose in one site.
func (c CoveredProcedure) Often() string {
	var parts []string
	if c.Times > 1 {
		parts = append(parts, fmt.Sprintf("%d times", c.Times))
		if c.HoursApart > 0 {
			parts = append(parts, "at least "+hours(c.HoursApart)+" apart")
		}
	}
	if c.Sites > 1 {
		parts = append(parts, fmt.Sprintf("in %d sites", c.Sites))
	}
	return strings.Join(parts, ", ")
}

func hours(h float64) string {
	if h < 1 {
		return notation.FormatNumber(h*60, 0) + " min"
	}
	return notation.FormatNumber(h, 2) + " h"
}

// Text is the whole cover for a person: "injection of X, IM, 10 mL, 3 times, at
// least 12 h apart".
func (c CoveredProcedure) Text() string {
	text := c.String()
	for _, more := range []string{c.Dose, c.Often()} {
		if more != "" {
			text += ", " + more
		}
	}
	return text
}

// ReadOften reads how often a dose may be given, how far apart, and in how many
// sites: "3 times, 12 h apart", "2x 30 min", "2 sites"; empty is one dose in one
// site. More than once says how far apart as well. The error is a *notation.Refusal.
func (c CoveredProcedure) ReadOften(text string) (CoveredProcedure, error) {
	c.Times, c.HoursApart, c.Sites = 0, 0, 0
	typed := notation.CleanLine(text, 60)
	rest := strings.ToLower(strings.Join(strings.Fields(typed), ""))
	rest = strings.NewReplacer("once", "1times", "twice", "2times").Replace(rest)
	refuse := func(why string) (CoveredProcedure, error) {
		return CoveredProcedure{}, &notation.Refusal{Typed: typed, Why: why}
	}
	for rest != "" {
		switch {
		case timesForm.MatchString(rest):
			m := timesForm.FindStringSubmatch(rest)
			c.Times, _ = strconv.Atoi(m[1])
			if rest = rest[len(m[0]):]; c.Times < 1 || c.Times > mostTimes {
				return refuse(fmt.Sprintf("a dose is given 1 to %d times by one decision", mostTimes))
			}
		case sitesForm.MatchString(rest):
			m := sitesForm.FindStringSubmatch(rest)
			c.Sites, _ = strconv.Atoi(m[1])
			if rest = rest[len(m[0]):]; c.Sites < 1 || c.Sites > mostSites {
				return refuse(fmt.Sprintf("a dose is divided over 1 to %d sites", mostSites))
			}
		case apartForm.MatchString(rest):
			m := apartForm.FindStringSubmatch(rest)
			c.HoursApart, _ = strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
			switch m[2][0] {
			case 'm':
				c.HoursApart = notation.Tidy(c.HoursApart / 60)
			case 'd':
				c.HoursApart *= 24
			}
			if rest = rest[len(m[0]):]; !notation.Usable(c.HoursApart) || c.HoursApart > mostApart {
				return refuse("the time between two doses is above 0 and at most 14 days")
			}
		case fillForm.MatchString(rest):
			rest = rest[len(fillForm.FindString(rest)):]
		default:
			return refuse("how often is written like: 3 times, 12 h apart; or 2 sites; empty is one dose")
		}
	}
	switch {
	case c.Times > 1 && c.HoursApart == 0:
		return refuse("say how far apart as well: 3 times, 12 h apart")
	case c.Times <= 1 && c.HoursApart > 0:
		return refuse("say how often as well: 3 times, 12 h apart")
	}
	if c.Times == 1 {
		c.Times = 0
	}
	if c.Sites == 1 {
		c.Sites = 0
	}
	return c, nil
}
