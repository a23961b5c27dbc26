package steps

import (
	"maps"
	"slices"
	"strconv"

	"loosebox/exam"
	"loosebox/ranges/words"
)

// The tables of words that the texts of steps and routines belong to: "gum.colour name", "gum.colour choice pink".
const (
	sort        = "step"
	routineSort = "routine"
	headingSort = "heading" // where the examiner stands; the key is the English heading
)

var _ = listed()

// listed gives the texts of every step to those that a language may translate.
func listed() bool {
	words.List(func() []words.Phrase {
		var out []words.Phrase
		for _, s := range all() {
			texts(&s, func(key string, text *string) { out = append(out, words.Phrase{Sort: sort, Key: key, Text: *text}) })
		}
		headings := map[string]bool{"": true}
		for _, r := range builtIn() {
			for _, ask := range r.Asks {
				if !headings[ask.Heading] {
					headings[ask.Heading] = true
					out = append(out, words.Phrase{Sort: headingSort, Key: ask.Heading, Text: ask.Heading})
				}
			}
			out = append(out, words.Phrase{Sort: routineSort, Key: r.Name + " title", Text: r.Title}, words.Phrase{Sort: routineSort, Key: r.Name + " about", Text: r.About})
		}
		return out
	})
	return true
}

// inWords puts the texts of the language in use into a step.
func inWords(s exam.Step) exam.Step {
	s.How, s.Choices, s.Parts.List = slices.Clone(s.How), slices.Clone(s.Choices), slices.Clone(s.Parts.List)
	s.Shows.Choices, s.Shows.Young, s.Shows.Parts = maps.Clone(s.Shows.Choices), maps.Clone(s.Shows.Young), maps.Clone(s.Shows.Parts)
	if words.InEnglish() {
		return s // as it stands in the literals
	}
	texts(&s, func(key string, text *string) {
		if said, ok := words.Translated(sort, key); ok {
			*text = said
		}
	})
	return s
}

// routineInWords puts the texts of the language in use into a routine.
func routineInWords(r exam.Routine) exam.Routine {
	if said, ok := words.Translated(routineSort, r.Name+" title"); ok {
		r.Title = said
	}
	if said, ok := words.Translated(routineSort, r.Name+" about"); ok {
		r.About = said
	}
	for i := range r.Asks {
		if said, ok := words.Translated(headingSort, r.Asks[i].Heading); ok {
			r.Asks[i].Heading = said
		}
	}
	return r
}

// texts calls each with every text of the step that a person reads, and its key.
func texts(s *exam.Step, each func(key string, text *string)) {
	say := func(key string, text *string) {
		if *text != "" {
			each(string(s.ID)+" "+key, text)
		}
	}
	say("name", &s.Name)
	say("short", &s.Short)
	say("plain", &s.Plain)
	say("caution", &s.Caution)
	say("presses", &s.Presses)
	for i := range s.How {
		say("how "+strconv.Itoa(i+1), &s.How[i])
	}
	for i := range s.Choices {
		c := &s.Choices[i]
		say("choice "+c.Key, &c.Words)
		say("hint "+c.Key, &c.Hint)
		say("why "+c.Key, &c.Why)
	}
	say("noun of parts", &s.Parts.Noun)
	say("what parts say", &s.Parts.Says)
	for i := range s.Parts.List {
		p := &s.Parts.List[i]
		say("part "+p.Key, &p.Words)
		say("hint of part "+p.Key, &p.Hint)
	}
	shown(s.Shows.Choices, "shows ", say)
	shown(s.Shows.Young, "shows young ", say)
	for _, key := range slices.Sorted(maps.Keys(s.Shows.Parts)) {
		s.Shows.Parts[key] = slices.Clone(s.Shows.Parts[key])
		for i := range s.Shows.Parts[key] {
			say("shows part "+key+" "+strconv.Itoa(i), &s.Shows.Parts[key][i])
		}
	}
	say("while", &s.Shows.While)
	say("begin", &s.Shows.Begin)
	say("end", &s.Shows.End)
}

func shown(sights map[string]string, lead string, say func(string, *string)) {
	for _, key := range slices.Sorted(maps.Keys(sights)) {
		text := sights[key]
		say(lead+key, &text)
		sights[key] = text
	}
}
