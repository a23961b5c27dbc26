package demo

import (
	"errors"
	"math/rand/v2"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/exam/tap"
)

// answer makes the entry of one place.
func (m *maker) answer(k exam.Key, v occasion) (exam.Entry, error) {
	step, _ := m.table.ByID(k.Step)
	if reason, ok := v.notDone[k.Step]; ok {
		return exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(reason)}, nil
	}
	value, err := m.value(step, k, v)
	if errors.Is(err, errNothing) {
		return exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(exam.ReasonNotApplicable)}, nil
	}
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return exam.Entry{}, err
	}
	return exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &value}, nil
}

// errNothing says that there is nothing to save at a place.
var errNothing = errors.New("nothing to save")

func (m *maker) value(step exam.Step, k exam.Key, v occasion) (exam.Value, error) {
	place := string(k.Step)
	if k.Site != exam.NoSite {
		if text, ok := v.found[place+":"+string(k.Site)]; ok {
			return step.ReadAnswer(text, step.Unit)
		}
	}
	if text, ok := v.found[place]; ok {
		if step.Kind == exam.KindCount {
			q, err := step.ReadNumber(text, notation.PerMinute)
			if err != nil && !errors.Is(err, exam.ErrUnlikely) {
				return exam.Value{}, err
			}
			return m.tapped(step, q.Value, m.chance("taps", place, string(k.Site)))
		}
		return step.ReadAnswer(text, step.Unit)
	}
	if usual, ok := m.cast.usual[k.Step]; ok {
		n := usual.value + usual.spread*m.chance("value", place, string(k.Site)).NormFloat64()
		switch step.Kind {
		case exam.KindCount:
			return m.tapped(step, n, m.chance("taps", place, string(k.Site)))
		case exam.KindTime:
			return step.TimesValue([]float64{round(max(n, 0.6), 1), round(max(n+0.1, 0.6), 1)})
		case exam.KindNumber, exam.KindWeight, exam.KindPick, exam.KindMarks, exam.KindScale, exam.KindEvent, exam.KindNote:
		}
		value, err := step.ReadAnswer(notation.FormatNumber(round(n, usual.decimals), usual.decimals), step.Unit)
		if step.Kind == exam.KindWeight {
			value.Weight = &exam.Weight{Method: exam.WeightTape}
		}
		return value, err
	}
	if value, ok := step.UsualValue(); ok {
		return value, nil
	}
	if step.Kind == exam.KindEvent {
		return m.event(step), nil
	}
	return exam.Value{}, errNothing
}

// event is when a milestone of a newborn was seen: in good time, where that has passed.
func (m *maker) event(step exam.Step) exam.Value {
	due, _ := score.MilestoneOf(step.ID)
	at := m.cast.birth(m.now).At.Add(due.Usual * 3 / 4).Truncate(time.Minute)
	if at.After(m.clock) {
		return exam.Value{Kind: step.Kind, Words: []string{exam.EventNotYet}}
	}
	return step.SeenAt(at)
}

// tapped makes a count by tapping at a rate: about 30 s of a heart, a minute of
// breaths, with the scatter of a practised hand.
func (m *maker) tapped(step exam.Step, rate float64, rng *rand.Rand) (exam.Value, error) {
	what, window, sway, hand := tap.Heart, 30.0, 0.035, 0.04
	if step.Heard == string(tap.Breath) {
		what, window, sway, hand = tap.Breath, 60.0, 0.12, 0.15
	}
	period := 60 / rate
	var taps []float64
	for beat := 0.0; beat < window+3*period; beat += period * (1 + sway*rng.NormFloat64()) {
		at := round(max(beat+hand*rng.NormFloat64(), 0), 3)
		if n := len(taps); n > 0 && at < taps[n-1]+period/3 {
			continue
		}
		taps = append(taps, at)
	}
	o := tap.Options{What: what, LeadIn: 2}
	result, err := tap.Evaluate(taps, o)
	if err != nil {
		return exam.Value{}, err
	}
	q := notation.Quantity{Value: round(result.Rate, 1), Unit: notation.PerMinute}
	return exam.Value{Kind: exam.KindCount, Number: &q, Count: &exam.Count{
		Method: exam.CountTapped, TapsS: taps, LeadIn: 2, HalfWidth: round(result.HalfWidth, 3), Evenness: result.Evenness,
	}}, nil
}
