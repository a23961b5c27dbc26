package procedure

import (
	"loosebox/exam"
	"loosebox/ranges/words"
)

// What a person reads of the tables of this package. The name of a site is its key; exam.Place shows it.
var (
	sites         = words.Rows("site for a needle", func(s NeedleSite) string { return s.Key }, builtInSites)
	dangers       = words.Rows("sign of danger", func(d Danger) string { return d.Key }, builtInDangers)
	cautions      = words.Rows("caution", func(c Caution) string { return c.Key }, builtInCautions)
	veinQuestions = words.Rows("question before a vein", func(q VeinQuestion) string { return q.Key }, builtInVeinQuestions)
	checkWords    = words.New("check list", map[string]string{
		"horse":      "Right horse: chip read, or markings compared",
		"product":    "Right product, read from the label",
		"dose":       "Right dose and unit",
		SecondPerson: "A second person checked the arithmetic",
		"route":      "Right route",
		"time":       "Right time",
		"expiry":     "Not expired; color, clearness and stopper correct",
		"decision":   "The veterinarian's decision is saved",
		"reactions":  "Earlier reactions checked",
		"food":       "Meant for food? Competing soon? Asked, and told to the veterinarian",
		"handler":    "Handler on your side, head turned to you",
		"tubes":      "Tubes in date, whole, laid out in the order of draw",
		"blood":      "Large volume: the veterinarian was asked first",
		"weight":     "The veterinarian knows this weight and orders the dose by it",
	})
	pointNames = words.New("point of a check list", map[string]string{
		"horse": "horse", "product": "product", "dose": "dose", SecondPerson: "second person", "route": "route", "time": "time",
		"expiry": "expiry", "decision": "decision", "reactions": "reactions", "food": "food", "handler": "handler",
		"tubes": "tubes", "blood": "blood", "weight": "weight",
	})
)

// PointAsks is the question of a point of a check list, by its key.
func PointAsks(key string) string { return checkWords.Of(key) }

// PointName is a point of a check list in one or two words, by its key.
func PointName(key string) string { return pointNames.Of(key) }

var _ = namedSites()

// namedSites gives the names of the sites to those that a language may translate.
func namedSites() bool {
	words.List(func() []words.Phrase {
		var out []words.Phrase
		for _, s := range builtInSites() {
			out = append(out, words.Phrase{Sort: exam.NeedleSites, Key: s.Key, Text: s.Key})
		}
		return out
	})
	return true
}
