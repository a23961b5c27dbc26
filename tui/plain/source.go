package plain

import (
	"strings"

	"loosebox/exam/explain"
	"loosebox/exam/notation"
)

// source says where the numbers of the place asked now come from, a line each: of
// the answer that stands there, and of what an answer is set beside.
func (s *Session) source(i int) {
	k := s.keys[i]
	step, _ := s.Deps.Steps.ByID(k.Step)
	a := explain.Subject{Judge: s.Deps.Judge, Step: step, Site: k.Site, Visit: s.visit, Earlier: s.earlier, Unit: s.prefer(step)}
	if f, ok := s.visit.Finding(k); ok && f.Done() {
		a.Finding = &f
	}
	s.explain(explain.Parts(a))
}

// explain prints parts, each line behind what it is about.
func (s *Session) explain(parts []explain.Section) {
	for _, p := range parts {
		for n, l := range p.Lines {
			if n == 0 {
				l = p.Head + ": " + l
			}
			s.line("%s", notation.Capital(strings.TrimSpace(l)))
		}
	}
}
