package judge

import (
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// assessWords takes the level of the chosen words from their literals.
func (a *assessment) assessWords() {
	v := &a.finding.Value
	switch {
	case len(v.Words) > 0:
		for _, key := range v.Words {
			c := a.choice(key)
			if c == nil {
				a.unjudged = "this version does not know the answer " + notation.CleanLine(key, 40)
				continue
			}
			a.choose(c)
		}
	case a.step.Kind == exam.KindScale && v.Number != nil:
		a.assessScore(v.Number.Value)
	default:
		a.unjudged = "it holds no answer"
	}
}

// assessScore judges a score without words; between two scores the one at the higher level counts.
func (a *assessment) assessScore(score float64) {
	for i := range a.step.Choices {
		if c := &a.step.Choices[i]; math.Abs(c.Score-score) < 1-slack {
			a.choose(c)
		}
	}
	if len(a.choices) == 0 {
		a.unjudged = "this version does not know the score " + notation.FormatNumber(score, 2)
	}
}

func (a *assessment) choice(key string) *exam.Choice {
	for i := range a.step.Choices {
		if a.step.Choices[i].Key == key {
			return &a.step.Choices[i]
		}
	}
	return nil
}

// choose keeps the choice where none stands at a higher level.
func (a *assessment) choose(c *exam.Choice) {
	switch {
	case c.Level > a.level || len(a.choices) == 0:
		a.level, a.choices = c.Level, append(a.choices[:0], c)
	case c.Level == a.level:
		a.choices = append(a.choices, c)
	}
}
