package rehearse

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Weights say how many points each part of a rehearsal is worth. A set exam may have its own.
type Weights struct {
	Answer  float64                 `json:"answer"`  // of a place whose truth is usual
	Weighty float64                 `json:"weighty"` // of a place that must be found, or whose truth stands at recheck or above
	Wrong   float64                 `json:"wrong"`   // taken off for each wrong answer
	Danger  float64                 `json:"danger"`  // of each choice at a moment of danger
	Order   float64                 `json:"order"`   // of the whole order
	HandOff float64                 `json:"hand_off"`
	Context float64                 `json:"last_half_hour"`
	Steps   map[exam.StepID]float64 `json:"steps,omitempty"` // of each place of a step, in place of the first two
}

// UsualWeights are our own, and common practice: what matters to the veterinarian counts three times, and so does a
// choice at which people get hurt.
func UsualWeights() Weights {
	return Weights{Answer: 1, Weighty: 3, Wrong: 1, Danger: 3, Order: 5, HandOff: 5, Context: 1}
}

// ScorePart is one part of a score.
type ScorePart struct {
	Name   string  `json:"name"`
	Points float64 `json:"points"`
	Of     float64 `json:"of"`
}

// Points are those of a rehearsal. What could not be examined on the horse is in no part of it.
type Points struct {
	ScorePart
	Percent float64     `json:"percent"`
	Parts   []ScorePart `json:"parts"`
}

// The names of the parts.
const (
	partAnswers = "answers"
	partDangers = "choices at danger"
	partOrder   = "order"
	partHandOff = "hand-off"
	partContext = "last 30 minutes"
)

// ScoreBy works the points out. An answer that was found in part, or measured off at its true level, has half of them; one
// that was not earned has none. Usual answers count for as much as was found of what there was to find: who calls a sick
// horse usual everywhere has examined nothing. Dangers, order and hand-off earn as much as was examined.
func (m Marks) ScoreBy(w Weights) Points {
	t := m.Tally()
	examined := 1.0
	if t.Asked > 0 {
		examined = float64(t.Asked-t.NotExamined) / float64(t.Asked)
	}
	dangers := ScorePart{Name: partDangers}
	for _, s := range m.Safety {
		dangers.Of += w.Danger
		if s.Safe {
			dangers.Points += w.Danger * examined
		}
	}
	order := ScorePart{Name: partOrder, Of: w.Order}
	if m.Order.Asks > 0 {
		kept := float64(m.Order.Answered-len(m.Order.OutOfOrder)) / float64(m.Order.Asks)
		order.Points = w.Order * kept * examined
	}
	context := ScorePart{Name: partContext, Of: w.Context}
	if m.Context.Right {
		context.Points = w.Context
	}
	parts := []ScorePart{m.answers(w), dangers, order, context}
	if m.HandOff.Needed {
		part := ScorePart{Name: partHandOff, Of: w.HandOff}
		switch {
		case m.HandOff.Complete:
			part.Points = w.HandOff * examined
		case m.HandOff.Done:
			part.Points = w.HandOff * examined / 2
		}
		parts = append(parts, part)
	}
	return added(slices.DeleteFunc(parts, func(p ScorePart) bool { return p.Of == 0 }))
}

// answers are the points of the answers: of what there was to find, and of the rest as far as it was found.
func (m Marks) answers(w Weights) ScorePart {
	var finds, usual ScorePart
	for _, f := range m.Findings {
		if m.excused(f.Place) {
			continue
		}
		part, worth := &usual, w.of(f, m.find)
		if f.Level > ranges.LevelUsual || m.mustFind(f) {
			part = &finds
		}
		part.Of += worth
		switch f.Outcome {
		case OutcomeRight:
			part.Points += worth
		case OutcomeInPart, OutcomeMeasuredOff:
			part.Points += worth / 2
		case OutcomeWrong:
			part.Points -= w.Wrong
		case OutcomeNotExamined:
		}
	}
	found := 1.0
	if finds.Points = max(finds.Points, 0); finds.Of > 0 {
		found = finds.Points / finds.Of
	}
	return ScorePart{Name: partAnswers, Points: finds.Points + max(usual.Points, 0)*found, Of: finds.Of + usual.Of}
}

func (m Marks) mustFind(f FindingMark) bool {
	return slices.Contains(m.find, exam.Key{Step: f.Step, Site: f.Site})
}

// of is what one place is worth.
func (w Weights) of(f FindingMark, find []exam.Key) float64 {
	if own, ok := w.Steps[f.Step]; ok {
		return own
	}
	if f.Level >= ranges.LevelRecheck || slices.Contains(find, exam.Key{Step: f.Step, Site: f.Site}) {
		return w.Weighty
	}
	return w.Answer
}

func added(parts []ScorePart) Points {
	s := Points{ScorePart: ScorePart{Name: "score"}, Parts: parts}
	for _, p := range parts {
		s.Points += p.Points
		s.Of += p.Of
	}
	if s.Of > 0 {
		s.Percent = 100 * s.Points / s.Of
	}
	return s
}

// String is a score in words: "41.5 of 57 points, 73 %".
func (s Points) String() string {
	return fmt.Sprintf("%s of %s points, %s %%", points(s.Points), points(s.Of), notation.FormatNumber(s.Percent, 0))
}

// InParts names the parts: "answers 30 of 45, order 5 of 5".
func (s Points) InParts() string {
	words := make([]string, len(s.Parts))
	for i, p := range s.Parts {
		words[i] = fmt.Sprintf("%s %s of %s", p.Name, points(p.Points), points(p.Of))
	}
	return strings.Join(words, ", ")
}

func points(v float64) string { return notation.FormatNumber(v, 1) }
