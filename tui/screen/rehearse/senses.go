package rehearse

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/rehearse"
)

// senses keeps for how many seconds each place was looked at, listened to or felt. Nothing counts while a question of
// danger stands, nor at a time step before its watch runs.
type senses struct {
	total map[exam.Key]float64
	at    exam.Key
	from  float64
	on    bool
}

// begin counts from a second on at a place; what ran before ends there.
func (s *senses) begin(k exam.Key, from float64) {
	s.end(from)
	s.at, s.from, s.on = k, from, true
}

func (s *senses) end(now float64) {
	if s.on && now > s.from {
		s.total[s.at] += now - s.from
	}
	s.on = false
}

// until brings the total of the place up to now.
func (s *senses) until(now float64) {
	if on := s.on; on {
		s.end(now)
		s.from, s.on = now, true
	}
}

// sensed are the entries that say how long the places of an answer were sensed.
func (p *patient) sensed(step exam.Step, k exam.Key) []exam.Entry {
	p.senses.until(p.now())
	places := []exam.Key{k}
	if k.Site == exam.Overall {
		places = nil
		for _, site := range step.Sites {
			places = append(places, exam.Key{Step: k.Step, Site: site})
		}
	}
	var out []exam.Entry
	for _, at := range places {
		if s := p.senses.total[at]; s > 0 && step.Kind != exam.KindNote {
			out = append(out, rehearse.SensedEntry(at, s))
		}
	}
	return out
}

// TooSoon says why usual cannot be said of a place yet: its sense had less time than it takes.
func (p *patient) TooSoon(k exam.Key, answer exam.Value) string {
	p.senses.until(p.now())
	why := p.horse.TooSoon(k, answer, p.senses.total[k])
	if why == "" || k.Site == exam.NoSite {
		return why
	}
	return fmt.Sprintf("%s %s", k.Site, why)
}
