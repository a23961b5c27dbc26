package round

import (
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// decision is what people decided about one horse, as it stands on a day.
type decision struct {
	picked  *exam.RoundLine // that day
	state   *exam.RoundLine // left out, seen or handed over that day
	left    *exam.RoundLine // picked for an earlier day or handed over on one, and not seen since
	carried *exam.RoundLine // handed over to that day
	turn    *exam.RoundLine // when it comes; of that day or before
}

// readDecision folds the lines of a horse, in their order.
func readDecision(day string, lines []exam.RoundLine, visits []exam.Visit) decision {
	var d decision
	for i := range lines {
		l := &lines[i]
		switch {
		case l.Day > day:
		case l.Act == exam.RoundTurn:
			if d.turn = l; l.Turn == exam.TurnByRecord {
				d.turn = nil
			}
		case l.Day == day:
			d.today(l)
		default:
			d.earlier(l)
		}
	}
	if d.left == nil {
		return d
	}
	target := targetOf(*d.left)
	switch {
	case target > day, seenSince(*d.left, target, day, visits):
		d.left = nil
	case target == day:
		d.carried, d.left = d.left, nil
	}
	return d
}

func (d *decision) today(l *exam.RoundLine) {
	switch l.Act {
	case exam.RoundPicked:
		d.picked, d.state = l, nil
	case exam.RoundLeftOut:
		d.picked, d.state = nil, l
	case exam.RoundSeen, exam.RoundHanded:
		d.state = l
	case exam.RoundBack:
		d.state = nil
	case exam.RoundTurn:
	}
}

func (d *decision) earlier(l *exam.RoundLine) {
	switch l.Act {
	case exam.RoundPicked, exam.RoundHanded:
		d.left = l
	case exam.RoundLeftOut, exam.RoundSeen:
		d.left = nil
	case exam.RoundBack, exam.RoundTurn:
	}
}

// targetOf is the day for which a line wants a horse seen.
func targetOf(l exam.RoundLine) string {
	if l.Act == exam.RoundHanded && l.OnDay != "" {
		return l.OnDay
	}
	return l.Day
}

// seenSince says that a visit before the day met what a line wanted.
func seenSince(l exam.RoundLine, target, day string, visits []exam.Visit) bool {
	return slices.ContainsFunc(visits, func(v exam.Visit) bool {
		on := dayOf(v.OpenedAt)
		return on >= target && on < day && v.OpenedAt.After(l.At) && !v.OnlyPapers()
	})
}

// reasons are those for which people put the horse on the round.
func (d decision) reasons() []Reason {
	var out []Reason
	if l := d.picked; l != nil {
		out = append(out, Reason{Picked, l.Day, said("picked by "+l.By, l.Words)})
	}
	if l := d.carried; l != nil {
		out = append(out, Reason{Carried, l.Day, said(fmt.Sprintf("moved from %s by %s", notation.Shown(l.Day), l.By), l.Words)})
	}
	if l := d.left; l != nil {
		switch {
		case l.To != "":
			out = append(out, Reason{Left, l.Day, said(fmt.Sprintf("reassigned to %s on %s, no visit since", l.To, notation.Shown(l.Day)), l.Words)})
		case l.OnDay != "":
			out = append(out, Reason{Left, l.Day, said(fmt.Sprintf("moved to %s, not seen since", notation.Shown(l.OnDay)), l.Words)})
		default:
			out = append(out, Reason{Left, l.Day, said("not seen on "+notation.Shown(l.Day), l.Words)})
		}
	}
	return out
}

func said(lead, words string) string {
	if words == "" {
		return lead
	}
	return lead + ": " + words
}
