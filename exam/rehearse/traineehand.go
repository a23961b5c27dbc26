package rehearse

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

// examine finds the answer of a place from what the horse shows.
func (a *attempt) examine(step exam.Step, k exam.Key) exam.Value {
	seen := a.h.Look(k, 0)
	if seen.Told != "" {
		seen.Words = seen.Told
	}
	switch {
	case step.Kind == exam.KindCount:
		return a.count(step, k)
	case step.Kind == exam.KindTime:
		return a.timed(step, k)
	case step.ID == "gut.sounds":
		return a.listen(step, k)
	case step.ID == "heart.rhythm":
		return a.rhythm(step)
	case step.SlowSeconds > 0:
		beep := seen.Events[len(seen.Events)-1]
		a.now += beep.AfterS
		return a.typed(step, firstNumber(beep.Words)+"C")
	case step.Kind == exam.KindWeight:
		v := a.typed(step, firstNumber(seen.Words)+"kg")
		v.Weight = &exam.Weight{Method: exam.WeightScale}
		return v
	case len(step.Shows.Parts) > 0:
		return a.typed(step, strconv.Itoa(scoreFace(step, seen.Words)))
	case step.Kind == exam.KindNumber:
		return a.typed(step, firstNumber(seen.Words)+string(step.Unit))
	case step.Kind == exam.KindEvent:
		return a.event(step, seen.Words)
	case step.Kind == exam.KindNote:
		return a.typed(step, "nothing more")
	}
	return a.choose(step, seen.Words)
}

// drawn is an answer out of those that the step takes, whatever the horse shows.
func (a *attempt) drawn(step exam.Step) exam.Value {
	r := a.Slips.AtRandom
	if n := len(step.Choices); n > 0 {
		v, err := step.ChoiceValue(step.Choices[r.IntN(n)].Key)
		if err != nil {
			a.fail(err)
		}
		return v
	}
	span := step.Possible
	if step.Likely != (exam.Span{}) {
		span = step.Likely
	}
	number := strconv.FormatFloat(span.Low+r.Float64()*(span.High-span.Low), 'f', step.Decimals, 64)
	switch {
	case step.Kind == exam.KindNote:
		return a.typed(step, "nothing more")
	case step.Kind == exam.KindEvent:
		return a.typed(step, "not yet")
	case len(step.Shows.Parts) > 0:
		return a.typed(step, strconv.Itoa(r.IntN(1+len(step.Parts.List)*int(step.Parts.Score.High))))
	}
	return a.typed(step, number)
}

// scoreFace adds up the parts of a score that are told in the words of its step.
func scoreFace(step exam.Step, words string) (total int) {
	for _, sights := range step.Shows.Parts {
		total += int(step.Parts.Score.Low) + slices.IndexFunc(sights, func(sight string) bool { return strings.Contains(words, sight) })
	}
	return total
}

// event reads a time off the card at the door.
func (a *attempt) event(step exam.Step, words string) exam.Value {
	text := "not yet"
	if at := regexp.MustCompile(`\d\d:\d\d`).FindString(words); at != "" {
		text = at
	}
	v, err := step.ReadEvent(text, a.h.Animal.Birth, a.h.openedAt)
	if err != nil {
		a.fail(err)
	}
	return v
}

// choose picks the choices whose sight is among the words.
func (a *attempt) choose(step exam.Step, words string) exam.Value {
	var picked []string
	for _, c := range step.Choices {
		if text := a.h.sight[step.ID][c.Key]; text != "" && strings.Contains(words, text) {
			picked = append(picked, c.Key)
		}
	}
	v, err := step.ChoiceValue(picked...)
	if err == nil && len(picked) == 0 {
		err = fmt.Errorf("%s: %q says nothing", step.ID, words)
	}
	if err != nil {
		a.fail(err)
	}
	return v
}

func firstNumber(text string) string { return regexp.MustCompile(`\d+(\.\d+)?`).FindString(text) }

// uneven listens whether the heart is one that is counted for the full minute.
func (a *attempt) uneven() bool {
	r, err := tap.Evaluate(a.h.Beats(a.now, a.now+180), tap.Options{What: tap.Heart, Sigma: 0.01})
	if err != nil || r.Evenness != tap.Even {
		return true
	}
	murmur, _ := a.h.table.ByID("heart.murmur")
	for _, side := range []exam.Site{exam.Left, exam.Right} {
		k := exam.Key{Step: murmur.ID, Site: side}
		if _, asked := a.h.Truth(k); asked && !a.choose(murmur, a.h.Look(k, 0).Told).Has("0") {
			return true
		}
	}
	return false
}

// count taps every beat for 40 s, or 68 s where the heart is uneven, or every breath for 70 s with the hand's scatter, or
// counts by ear.
func (a *attempt) count(step exam.Step, k exam.Key) exam.Value {
	if a.Slips.HurriedS > 0 { // no time to count: a rate out of the air
		return a.typed(step, "40")
	}
	window, hand, what := 40.0, a.HandS, tap.Heart
	if a.uneven() {
		window = fullS + 8
	}
	if step.Heard == string(tap.Breath) {
		window, hand, what = 70, 0.15, tap.Breath
	}
	at := a.h.events(step, a.now, a.now+window)
	if len(at) == 0 {
		a.fail(fmt.Errorf("%s: nothing to count", step.ID))
		return exam.Value{}
	}
	zero := at[0]
	defer func() { a.now += window }()
	if !a.Slips.NoClock {
		a.append(ClockEntry(k, zero))
	}
	if a.Slips.ByEar {
		return a.byEar(step, what, zero, window > 40)
	}
	taps := make([]float64, len(at))
	for i, b := range at {
		taps[i] = b - zero + hand*a.rng.NormFloat64()
		if a.Slips.TapFactor > 0 && what == tap.Heart {
			taps[i] = (b - zero) / a.Slips.TapFactor
		}
	}
	taps[0] = 0
	slices.Sort(taps)
	return a.rate(step, taps, what)
}

// byEar counts 30 s of a heart, or a minute where that is asked.
func (a *attempt) byEar(step exam.Step, what tap.What, zero float64, doubtful bool) exam.Value {
	seconds := 30
	n := len(a.h.events(step, zero, zero+30)) - 1
	if c, err := tap.Counted(what, n, seconds, doubtful); err != nil || !c.Enough {
		seconds, n = fullS, len(a.h.events(step, zero, zero+fullS))-1
	}
	q := notation.Quantity{Value: 60 / float64(seconds) * float64(n), Unit: notation.PerMinute}
	return exam.Value{Kind: step.Kind, Number: &q, Count: &exam.Count{Method: exam.CountByEar, WindowS: float64(seconds), Counted: n}}
}

func (a *attempt) rate(step exam.Step, taps []float64, what tap.What) exam.Value {
	r, err := tap.Evaluate(taps, tap.Options{What: what, LeadIn: 2})
	if err != nil {
		a.fail(fmt.Errorf("%s: %w", step.ID, err))
	}
	q := notation.Quantity{Value: r.Rate, Unit: notation.PerMinute}
	return exam.Value{Kind: step.Kind, Number: &q, Count: &exam.Count{
		Method: exam.CountTapped, TapsS: taps, LeadIn: r.LeadIn, HalfWidth: r.HalfWidth, Evenness: r.Evenness,
	}}
}

// timed presses as the colour or the fold comes back, a tenth of a second late each time.
func (a *attempt) timed(step exam.Step, k exam.Key) exam.Value {
	var trials []float64
	for n := range 3 {
		ev := a.h.Look(k, n).Events
		if len(ev) != 2 || ev[0].Kind != Pale || ev[1].Kind != Back {
			a.fail(fmt.Errorf("%s: it neither pales nor comes back", step.ID))
			return exam.Value{}
		}
		trials = append(trials, ev[1].AfterS-ev[0].AfterS+0.1)
		a.now += ev[1].AfterS + 3
	}
	v, err := step.TimesValue(trials)
	if err != nil {
		a.fail(err)
	}
	return v
}

// listen takes four minutes at a quadrant and goes by the published figures: none, under 1, 1 to 3, over 3 a minute.
func (a *attempt) listen(step exam.Step, k exam.Key) exam.Value {
	sounds := a.h.Sounds(k.Site, a.now, a.now+240)
	n := len(sounds)
	a.now += 240
	switch {
	case n == 0:
		return a.typed(step, "none")
	case n < 4, n == 4 && sounds[0].Kind == Faint: // four in four minutes, the ends included
		return a.typed(step, "reduced")
	case n > 12:
		return a.typed(step, "increased")
	}
	return a.typed(step, "heard")
}

// rhythm listens for three minutes and takes the word that the counting rules find.
func (a *attempt) rhythm(step exam.Step) exam.Value {
	at := a.h.Beats(a.now, a.now+180)
	a.now += 180
	r, err := tap.Evaluate(at, tap.Options{What: tap.Heart, Sigma: 0.01})
	word := map[exam.Evenness]string{
		tap.Even: "regular", tap.EvenWithPauses: "pauses", tap.SpeedingAndSlowing: "waves", tap.Irregular: "irregular",
	}[r.Evenness]
	if err != nil || word == "" {
		a.fail(fmt.Errorf("%s: %q after three minutes (%w)", step.ID, r.Evenness, errors.Join(err)))
	}
	return a.typed(step, word)
}
