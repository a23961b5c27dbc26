package judge_test

import (
	"testing"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// fullVisit answers every step at every site, some of it out of range.
func fullVisit(t testing.TB) exam.Visit {
	t.Helper()
	var findings []exam.Finding
	for i, s := range steps.Table().All() {
		sites := s.Sites
		if len(sites) == 0 {
			sites = []exam.Site{exam.NoSite}
		}
		for k, site := range sites {
			f := exam.Finding{Step: s.ID, Site: site, Value: exam.Value{Kind: s.Kind}}
			switch {
			case len(s.Choices) > 0:
				f.Value.Words = []string{s.Choices[(i+k)%len(s.Choices)].Key}
			case s.Kind != exam.KindNote:
				f.Value.Number = &notation.Quantity{Value: (s.Likely.Low + s.Likely.High) / 2, Unit: s.Unit}
			}
			findings = append(findings, f)
		}
	}
	return visitOf(horseOf(t, ranges.AdultLight), findings...)
}

// A verdict of about 60 findings beside 20 earlier visits of as many; wanted under 200 microseconds.
func BenchmarkVisit(b *testing.B) {
	j := whole(b)
	v := fullVisit(b)
	earlier := make([]exam.Visit, 20)
	for i := range earlier {
		e := fullVisit(b)
		e.ID = exam.VisitID(rune('a' + i))
		e.OpenedAt = day().AddDate(0, -i-1, 0)
		earlier[i] = e
	}
	b.ReportMetric(float64(len(v.Findings)), "findings")
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		_ = j.Visit(v, earlier)
	}
}
