package round

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/judge"
	"loosebox/ranges"
)

// ToldFor is for how long a visit at the level tell the vet puts its horse before others, counted from its beginning; one
// whose exam is open counts for as long as it is open. Our own.
const ToldFor = 24 * time.Hour

// ForVet is what the last visit of a horse holds for the veterinarian.
type ForVet struct {
	Visit exam.VisitID
	Open  bool               // nobody told it yet
	Count *judge.DangerCount // of danger signs; nil where no count applies
	Read  string             // who signed the visit off, and when, in a sentence; empty where nobody did
}

// Line says it in a line: the count of danger signs, or that the veterinarian is to be told.
func (t *ForVet) Line() string {
	if t.Count == nil {
		return "Tell the vet: no count of danger signs applies"
	}
	return t.Count.Line()
}

// Lines name the signs that were seen and those that were not looked at, and say who read the visit.
func (t *ForVet) Lines() []string {
	var lines []string
	if t.Count != nil {
		lines = t.Count.Lines()
	}
	if t.Read != "" {
		lines = append(lines, t.Read)
	}
	return lines
}

// told judges the last visit of the horse up to the day; nil where it is not at the level tell the vet, or over for long.
func (p *plan) told() *ForVet {
	if p.judge == nil {
		return nil
	}
	list := p.recent()
	for i := range list {
		v := &list[i]
		if v.OnlyPapers() {
			continue
		}
		if v.Closed() && p.at.Sub(v.OpenedAt) > ToldFor {
			return nil
		}
		verdict := p.judge.Visit(*v, list[i+1:])
		if verdict.Level < ranges.LevelTell {
			return nil
		}
		_, untold := authorization.Untold(*v, verdict.Remarks)
		return &ForVet{Visit: v.ID, Open: untold && !v.WithoutHandOff.NothingToTell(), Count: verdict.Danger, Read: v.SignedOffWords()}
	}
	return nil
}

// byTold orders two horses by what is told of them: one that is told before one that is not, then by danger signs.
func byTold(a, b *ForVet) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return 1
	case b == nil:
		return -1
	}
	return counted(a).Before(counted(b))
}

// counted is the count of a horse that is told, empty where none applies.
func counted(t *ForVet) judge.DangerCount {
	if t.Count == nil {
		return judge.DangerCount{}
	}
	return *t.Count
}
