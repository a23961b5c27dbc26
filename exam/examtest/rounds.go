package examtest

import (
	"maps"
	"slices"

	"loosebox/exam"
)

// AddToRound adds lines to the rounds of their days.
func (s *Store) AddToRound(lines ...exam.RoundLine) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return s.fault
	}
	lines = slices.Clone(lines)
	for i := range lines {
		if !s.raw {
			lines[i] = exam.CleanRoundLine(lines[i])
		}
		if err := lines[i].Check(); err != nil {
			return err
		}
		if _, err := s.newest(lines[i].Horse); err != nil {
			return err
		}
	}
	for _, l := range lines {
		l.Seq = len(s.rounds[l.Day]) + 1
		s.rounds[l.Day] = append(s.rounds[l.Day], l)
		s.writes++
	}
	return nil
}

// RoundLines lists the lines of some days.
func (s *Store) RoundLines(from, to string) ([]exam.RoundLine, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault != nil {
		return nil, s.fault
	}
	var out []exam.RoundLine
	for _, day := range slices.Sorted(maps.Keys(s.rounds)) {
		if from <= day && day <= to {
			for _, l := range s.rounds[day] {
				l.Horse = s.lead(l.Horse)
				out = append(out, l)
			}
		}
	}
	return out, nil
}
