package rehearse

import (
	"math"

	"loosebox/exam"
)

// The heart. The second sound follows the first by about the length of systole at rest, 0.42 s (from memory), and by two
// fifths of the gap where the heart is too fast for that (assumed). What is loud beside what follows EQCARD: softer than
// the heart sounds at grade 2, as loud at 3, louder from 4.
const (
	systoleS    = 0.42
	systolePart = 0.4
	firstLoud   = 0.8
	secondLoud  = 0.6
	firstLastS  = 0.14
	// In the pause of a dropped beat a soft low sound can be heard where the beat was due (PROV1); how loud, and in how many
	// horses, is assumed.
	pauseLoud = 0.12
	pausePart = 0.5 // of the pause
	pauseOdds = 0.7 // of a horse to have it
)

// Thuds lists the soft low sounds in the pauses of dropped beats, from one second up to another: no beats. A horse has
// one in each pause or none at all, by its seed; one without dropped beats has none.
func (h *Horse) Thuds(from, to float64) []float64 {
	if h.every == 0 || h.Origin.random("thud").Float64() >= pauseOdds {
		return nil
	}
	var out []float64
	beats := h.Beats(from-farBackS, to+farBackS)
	for i := 1; i+1 < len(beats); i++ {
		gap := beats[i+1] - beats[i]
		if at := beats[i] + pausePart*gap; gap > 1.6*(beats[i]-beats[i-1]) && at >= from && at < to {
			out = append(out, at)
		}
	}
	return out
}

// secondAt is when the second heart sound comes after a beat that is followed by the next one after gap seconds.
func secondAt(gap float64) float64 { return min(systoleS, systolePart*gap) }

// murmurLoud is the loudness of a murmur by its grade, beside the heart sounds.
func murmurLoud(grade float64) float64 {
	return [7]float64{0, 0.05, 0.12, 0.3, 0.6, 0.75, 0.9}[int(min(max(grade, 0), 6))]
}

func (h *Horse) soundHeart(m *mix, k exam.Key) {
	if k.Site == exam.NoSite {
		k.Site = exam.Left
	}
	grade := 0.0
	if v, ok := h.truth[exam.Key{Step: "heart.murmur", Site: k.Site}]; ok && v.Number != nil {
		grade = v.Number.Value
	}
	beats := h.Beats(m.from-farBackS, m.to+farBackS)
	for _, at := range h.Thuds(m.from-farBackS, m.to+farBackS) {
		m.add(at, tone(0.12, 0.04, pauseLoud, 45, 60))
	}
	for i := 0; i+1 < len(beats); i++ {
		b, second := beats[i], secondAt(beats[i+1]-beats[i])
		m.add(b, tone(firstLastS, 0.045, firstLoud, 65, 95))
		m.add(b+second, tone(0.1, 0.03, secondLoud, 90, 130))
		if loud := murmurLoud(grade); loud > 0 {
			begin, length := murmurSpan(h.Case.MurmurIn, second)
			r := h.Origin.random("murmur " + milliText(b))
			m.add(b+begin, hiss(r, length, loud, 220, 180, swell))
		}
	}
}

// murmurSpan is when after a beat a murmur begins and how long it lasts, between the first sound and the second.
func murmurSpan(in MurmurTime, second float64) (begin, length float64) {
	begin = min(0.08, second/4)
	room := second - begin
	switch in {
	case MurmurLate:
		return begin + room/2, room / 2
	case MurmurWhole:
		return begin, room
	case MurmurEarly:
	}
	return begin, room / 2
}

// breathVoice is how a breath sounds by the word that is true of the lungs: how loud going in and out, and what is heard
// besides.
type breathVoice struct {
	in, out           float64
	whistle, crackles bool
	rattle            bool
}

// voiceOf is the voice of a word of the step: in louder than out (PENNR); the words after MUNROER and WIKIRAO.
func voiceOf(word string) breathVoice {
	switch word {
	case "harsh", "rub":
		return breathVoice{in: 0.45, out: 0.35}
	case "crackles":
		return breathVoice{in: 0.2, out: 0.1, crackles: true}
	case "wheezes":
		return breathVoice{in: 0.25, out: 0.2, whistle: true}
	case "rattle":
		return breathVoice{in: 0.3, out: 0.25, rattle: true}
	case "absent", "quiet":
		return breathVoice{in: 0.03, out: 0.01}
	}
	return breathVoice{in: 0.2, out: 0.08}
}

func (h *Horse) soundBreath(m *mix, k exam.Key) {
	voice := voiceOf("soft")
	if k.Step == "lung.sounds" {
		voice = voiceOf(h.word(k))
	}
	breaths := h.Breaths(m.from-farBackS, m.to+farBackS)
	for i := 0; i+1 < len(breaths); i++ {
		b, gap := breaths[i], breaths[i+1]-breaths[i]
		r := h.Origin.random("breath " + milliText(b))
		in, out := 0.4*gap, 0.45*gap
		m.add(b, hiss(r, in, voice.in, 350, 300, swell))
		m.add(b+in, hiss(r, out, voice.out, 250, 200, swell))
		switch {
		case voice.whistle:
			m.add(b+in+0.2*out, tone(0.6*out, 0.4*out, 0.3, 400, 510))
		case voice.rattle:
			m.add(b, hiss(r, in+out, 0.3, 120, 60, func(x float64) float64 { return swell(x) * swell(math.Mod(x*24, 1)) }))
		}
		for n := 0; voice.crackles && n < 6; n++ {
			m.add(b+in*between(r, 0.7, 1), tone(0.03, 0.006, 1.2, 900))
		}
	}
}

// soundGut adds one gut sound. Rumbles are low, gurgles are bubbles in a row, the rush is the long pour of a drain.
func (h *Horse) soundGut(m *mix, site exam.Site, s Sound) {
	r := h.Origin.random("gut sound " + string(site) + milliText(s.AtS))
	loud := map[SoundKind]float64{Gurgle: 0.3, Rumble: 0.4, Rush: 0.5, Faint: 0.06, Loud: 0.8}[s.Kind]
	switch s.Kind {
	case Rumble, Loud:
		m.add(s.AtS, hiss(r, s.LengthS, loud, 90, 60, func(x float64) float64 { return swell(x) * (0.6 + 0.4*swell(math.Mod(x*5, 1))) }))
	case Rush:
		m.add(s.AtS, hiss(r, s.LengthS, loud, 450, 350, swell))
		m.add(s.AtS+0.3*s.LengthS, hiss(r, 0.6*s.LengthS, loud/4, 150, 80, swell))
	case Gurgle, Faint:
		for at := 0.0; at < s.LengthS-0.15; at += between(r, 0.06, 0.2) {
			m.add(s.AtS+at, tone(0.12, 0.04, loud, between(r, 160, 380)))
		}
	}
}
