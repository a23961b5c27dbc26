package examtest

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Join writes that horses are one, or that the first is none of the others.
func (s *Store) Join(j exam.Joining) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return s.fault
	}
	if err := j.Check(); err != nil {
		return err
	}
	apart := false
	for _, h := range j.Horses {
		if len(s.horses[h]) == 0 {
			return fmt.Errorf("horse %q: %w", h, exam.ErrNotFound)
		}
		apart = apart || s.lead(h) != s.lead(j.Horses[0])
	}
	if j.Undoes = nil; j.Apart {
		j.Undoes = s.joins.Undoing(j.Horses[0])
	} else if !apart && len(s.joins.DisputesOf(exam.Horse{ID: j.Horses[0]})) == 0 {
		return &notation.Refusal{Why: "They are one horse in the record already. Nothing was saved."}
	}
	j.Line = exam.Hash(s.id(j.At))
	s.joins = append(s.joins, j)
	s.writes++
	return nil
}

// Joinings lists the lines of Join.
func (s *Store) Joinings() (exam.Joinings, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append(exam.Joinings(nil), s.joins...), s.fault
}

// group are the horses that are one with a horse, the one that leads first.
func (s *Store) group(h exam.HorseID) []exam.HorseID {
	if g := s.joins.Groups()[h]; len(g) > 0 {
		return g
	}
	return []exam.HorseID{h}
}

func (s *Store) lead(h exam.HorseID) exam.HorseID { return s.group(h)[0] }

// visitsOf are the visits of all horses that are one with a horse.
func (s *Store) visitsOf(h exam.HorseID) []exam.VisitID {
	var out []exam.VisitID
	for _, one := range s.group(h) {
		out = append(out, s.ofHorse[one]...)
	}
	return out
}

// one is a copy of a visit, of the horse that leads.
func (s *Store) one(v exam.Visit) exam.Visit {
	v = cloneVisit(v)
	if len(s.group(v.Horse.ID)) == 1 {
		return v
	}
	v.Horse.ID = s.lead(v.Horse.ID)
	if h, err := s.newest(v.Horse.ID); err == nil && !v.Closed() {
		v.Horse.Cautions, v.Horse.Reactions = exam.United(v.Horse.Cautions, h.Cautions), exam.United(v.Horse.Reactions, h.Reactions)
	}
	return v
}

// saidOf are the lines of horses that are one.
func (s *Store) saidOf(h exam.HorseID) []exam.HorseLine {
	group := s.group(h)
	apart := func(h exam.HorseID) bool { return !slices.Contains(group, h) }
	var out []exam.HorseLine
	for _, l := range s.said {
		if !apart(l.Horse.ID) && !slices.ContainsFunc(l.Of, apart) {
			out = append(out, l)
		}
	}
	return out
}

// saveJoined adds a revision of a horse that is several records; what it adds to cautions
// and reactions is also said of each record.
func (s *Store) saveJoined(h, united exam.Horse, group []exam.HorseID, by string, at time.Time) (exam.Horse, error) {
	settles := h.Settles
	h.ID, h.Differ, h.Settles, h.Joined = group[0], nil, nil, nil
	for _, id := range group {
		own := cloneHorse(s.horses[id][len(s.horses[id])-1])
		n := len(own.Cautions) + len(own.Reactions)
		own.Cautions = exam.United(own.Cautions, exam.Beyond(h.Cautions, united.Cautions))
		own.Reactions = exam.United(own.Reactions, exam.Beyond(h.Reactions, united.Reactions))
		if len(own.Cautions)+len(own.Reactions) > n {
			own.Revision++
			s.horses[id] = append(s.horses[id], own)
			s.said = append(s.said, exam.HorseLine{Horse: own, By: by, At: at})
		}
	}
	s.said = append(s.said, exam.HorseLine{Horse: h, By: by, At: at, Settles: settles, Of: group})
	s.writes++
	return s.newest(h.ID)
}
