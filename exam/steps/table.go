package steps

import (
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// Table returns every step, in record order.
func Table() *exam.Steps {
	list := all()
	for i, s := range list {
		list[i] = inWords(s)
	}
	return exam.NewSteps(list)
}

// all is every step with its English texts.
func all() []exam.Step {
	return slices.Concat(
		general(), heart(), breathing(), gut(), skin(),
		head(), limbs(), rear(), pain(), foal(), closing(),
	)
}

// from says where the level of a choice was read.
type from struct {
	source   string
	evidence exam.Evidence
}

// published names a source of that tier: paper, textbook, university, professional body.
func published(code string) from { return from{code, ranges.Published} }

// practice names a practice page: a practice, charity, company or vet-written press.
func practice(code string) from { return from{code, ranges.PracticePage} }

// common names TRADE, a habit of the trade, or a source that says it of something near.
func common(code string) from { return from{code, ranges.CommonPractice} }

// memory marks a level that is known but was not read.
func memory() from { return from{"MEMORY", ranges.FromMemory} }

func usual(key, words, hint string) exam.Choice {
	return exam.Choice{Key: key, Words: words, Hint: hint, Level: ranges.LevelUsual}
}

func note(key, words, hint, why string, f from) exam.Choice {
	return choice(ranges.LevelNote, key, words, hint, why, f)
}

func recheck(key, words, hint, why string, f from) exam.Choice {
	return choice(ranges.LevelRecheck, key, words, hint, why, f)
}

func tell(key, words, hint, why string, f from) exam.Choice {
	return choice(ranges.LevelTell, key, words, hint, why, f)
}

func choice(l exam.Level, key, words, hint, why string, f from) exam.Choice {
	return exam.Choice{
		Key: key, Words: words, Hint: hint, Level: l,
		Why: why, Source: f.source, Evidence: f.evidence,
	}
}

// scored gives the choices of a scale their scores, from first upwards in ones.
func scored(first float64, choices ...exam.Choice) []exam.Choice {
	for i := range choices {
		choices[i].Score = first + float64(i)
	}
	return choices
}

func sides() []exam.Site { return []exam.Site{exam.Left, exam.Right} }

func quarters() []exam.Site { return slices.Concat(leftQuarters(), rightQuarters()) }

func leftQuarters() []exam.Site { return []exam.Site{exam.LeftUpper, exam.LeftLower} }

func rightQuarters() []exam.Site { return []exam.Site{exam.RightUpper, exam.RightLower} }

func feet() []exam.Site {
	return []exam.Site{exam.LeftFore, exam.RightFore, exam.LeftHind, exam.RightHind}
}
