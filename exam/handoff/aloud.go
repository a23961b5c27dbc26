package handoff

import (
	"math"
	"regexp"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// scored ends the short name of a step that is scored: "murmur 0-6".
var scored = regexp.MustCompile(` (\d+)-(\d+)$`)

// spokenNames are those of steps whose short name says too little when it is heard.
func spokenNames() map[exam.StepID]string {
	return map[exam.StepID]string{
		"heart.murmur": "heart murmur", "breath.effort": "breathing effort", "condition.score": "condition", "jugular.fill": "jugular filling",
		"neck.crest": "crest of the neck", "limb.digitalpulse": "digital pulses",
		"foal.breast": "lying on the breast", "foal.suck": "sucking", "foal.stand": "standing", "foal.nurse": "nursing",
	}
}

// name is a step as it is read, without the ends of its scale.
func (in Input) name(id exam.StepID) string {
	if name, ok := spokenNames()[id]; ok {
		return name
	}
	s, ok := in.Steps.ByID(id)
	if !ok {
		return string(id)
	}
	return scored.ReplaceAllString(strings.ToLower(s.Short), "")
}

// place is a step at a site as it is read.
func (in Input) place(k exam.Key) string {
	switch name := in.name(k.Step); {
	case k.Site == exam.NoSite:
		return name
	case k.Step == "heart.murmur":
		return k.Site.String() + " " + name
	default:
		return name + " " + k.Site.String()
	}
}

// aloud is a value as it is read: rates as whole numbers, a weight no finer than it
// was found, a score with the end of its scale.
func aloud(step exam.Step, v exam.Value) string {
	switch {
	case v.Kind == exam.KindNote:
		return cut(v.Text, mostComment)
	case v.Number == nil || v.Kind == exam.KindEvent:
		return aloudWords(step, v)
	case v.Kind == exam.KindWeight:
		return v.Bound.Show(weightText(v)) + howWeighed(v.Weight)
	case step.Unit == notation.PerMinute:
		return v.Bound.Show(notation.FormatNumber(v.Number.Value, 0) + " a minute")
	case step.Unit == notation.Seconds:
		if text := notation.FormatNumber(v.Number.Value, 1); text != "1" {
			return v.Bound.Show(text + " seconds")
		}
		return v.Bound.Show("1 second")
	}
	if of := endOf(step); of != "" && v.Kind != exam.KindScale {
		return v.Bound.Show(notation.FormatNumber(v.Number.Value, 1) + " of " + of)
	}
	if v.Kind == exam.KindScale {
		return aloudWords(step, v)
	}
	return v.Bound.Show(v.Number.Text(min(step.Decimals, 1)))
}

// aloudWords is a choice in its words; one of a murmur by its grade.
func aloudWords(step exam.Step, v exam.Value) string {
	if step.ID == "heart.murmur" && len(v.Words) == 1 {
		if c, ok := step.Choice(v.Words[0]); ok && c.Score > 0 {
			return "grade " + notation.FormatNumber(c.Score, 1) + " of " + endOf(step)
		}
		return "none"
	}
	if step.Kind != exam.KindScale {
		return cut(v.Show(step), 10)
	}
	words := make([]string, 0, len(v.Words))
	for _, key := range v.Words {
		if c, ok := step.Choice(key); ok {
			key = c.Words
		}
		words = append(words, key)
	}
	if len(words) == 0 {
		return cut(v.Show(step), 10)
	}
	return cut(strings.Join(words, ", "), 10)
}

// endOf is the highest score of a step that is scored; empty for any other.
func endOf(step exam.Step) string {
	if m := scored.FindStringSubmatch(step.Short); m != nil {
		return m[2]
	}
	return ""
}

// weightText rounds a weight to what its method can tell: a scale to one, a tape to
// five, an eye to ten kg, and twice as many lb; of an animal under 100 kg to one.
// The published equations are off by 5 % and more (exam/weight); the steps are ours.
func weightText(v exam.Value) string {
	kg, _ := v.Number.In(notation.Kilograms)
	step := 5.0
	switch {
	case v.Weight != nil && v.Weight.Method == exam.WeightScale, kg.Value < 100:
		step = 1
	case v.Weight != nil && v.Weight.Method == exam.WeightEye:
		step = 10
	}
	if v.Number.Unit == notation.Pounds && step > 1 {
		step *= 2
	}
	q := *v.Number
	q.Value = math.Round(q.Value/step) * step
	return q.Text(0)
}

// howWeighed is how a weight was found.
func howWeighed(w *exam.Weight) string {
	switch {
	case w == nil || w.Method == "":
		return ", method not recorded"
	case w.Method == exam.WeightScale:
		return " on a scale"
	case w.Method == exam.WeightEye:
		return " by eye"
	}
	return " by " + notation.CleanLine(w.Method.String(), 40)
}

// cut keeps the beginning of a text from a person, clean, on one line, and no more
// than so many words when it is read aloud. A word that is no word is cut too.
func cut(text string, words int) string {
	const longest = 24 // characters
	var kept []string
	used := 0
	for _, field := range strings.Fields(notation.CleanNote(text)) {
		if r := []rune(field); len(r) > longest {
			field = string(r[:longest])
		}
		if used += max(1, SpokenWords(field)); used > words {
			kept = append(kept, "...")
			break
		}
		kept = append(kept, field)
	}
	return strings.TrimSuffix(strings.Join(kept, " "), ".")
}
