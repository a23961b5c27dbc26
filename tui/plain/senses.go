package plain

import (
	"loosebox/exam"
	"loosebox/exam/rehearse"
)

// rehearsed keeps for how many seconds each place of a simulated horse was looked at, listened to or felt.
type rehearsed struct {
	total map[exam.Key]float64
	at    exam.Key
	from  float64
}

// come begins to sense a place. In a script no time passes while a sight is read, so that a look or a touch takes its time
// at once; what is listened to takes the seconds behind listen.
func (s *Session) come(k exam.Key) {
	s.sense()
	s.played.senses.at, s.played.senses.from = k, s.seconds()
	step, _ := s.Deps.Steps.ByID(k.Step)
	if s.Wait == nil && step.Listen == exam.ListenNone {
		s.pass(s.Horse.NeedOf(k, exam.Value{}).Seconds)
	}
}

// sense adds the time since the last look to the place where one is.
func (s *Session) sense() {
	r, now := &s.played.senses, s.seconds()
	if r.at.Step != "" && now > r.from {
		r.total[r.at] += now - r.from
	}
	r.from = now
}

// storeSensed writes down how long the places of an answer were sensed, before the answer.
func (s *Session) storeSensed(k exam.Key, step exam.Step) error {
	if s.Horse == nil || step.Kind == exam.KindNote {
		return nil
	}
	s.sense()
	places := []exam.Key{k}
	if k.Site == exam.Overall {
		places = nil
		for _, site := range step.Sites {
			places = append(places, exam.Key{Step: k.Step, Site: site})
		}
	}
	for _, at := range places {
		if seconds := s.played.senses.total[at]; seconds > 0 {
			if err := s.store(rehearse.SensedEntry(at, seconds)); err != nil {
				return err
			}
		}
	}
	return nil
}
