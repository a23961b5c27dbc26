package after

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/due"
	"loosebox/exam/notation"
)

// watches lists the watches of the visit, and those that are still to do: nobody
// began or declined one after a dose.
func (in Input) watches() []Task {
	var out []Task
	for _, w := range in.Visit.Watches {
		out = append(out, in.watch(w))
	}
	why := "start it, or decline it with a reason; no minutes are set"
	if in.WatchMinutes > 0 {
		why = fmt.Sprintf("start it, or decline it with a reason; the practice sets %d minutes", in.WatchMinutes)
	}
	for _, i := range in.Visit.ToWatch() {
		out = append(out, Task{Kind: Watch, State: Open, Urgent: true, Number: i.Number, Text: fmt.Sprintf("after injection %d: not started", i.Number), Why: why})
	}
	return out
}

func (in Input) watch(w exam.Watch) Task {
	l := Task{Kind: Watch, State: Done, Number: w.Injection}
	name := fmt.Sprintf("after injection %d", w.Injection)
	if !w.Running() {
		l.Text = name + ": " + w.State.String()
		for _, more := range []string{w.SignWords, w.Why.String()} {
			if more != "" {
				l.Text += ", " + more
			}
		}
		if w.EndAt != nil {
			l.Text += ", " + in.clock(*w.EndAt) + ", by " + w.EndBy
		}
		return l
	}
	l.State = Open
	now := in.Waits.Watch(in.Visit.ID, w, in.Now)
	l.Text = fmt.Sprintf("%s: until %s", name, in.clock(now.Ends))
	l.Why = fmt.Sprintf("%d min left", (now.Left+time.Minute-1)/time.Minute)
	switch {
	case now.Asks:
		l.Urgent, l.Why = true, now.Doubt
	case now.Left == 0:
		l.Urgent, l.Why = true, "time is up: record what was seen"
	}
	return l
}

func (in Input) rechecks() []Task {
	var out []Task
	for _, r := range in.Visit.Rechecks {
		out = append(out, Task{Kind: Recheck, State: Done, Number: r.Seq, Text: fmt.Sprintf("%s: %s", r.When(in.Now), r.What)})
	}
	return append(out, Task{Kind: Recheck, State: Open, Text: "set a follow-up"})
}

// doses lists the earlier doses that are noted in the visit.
func (in Input) doses() []Task {
	var out []Task
	for _, i := range in.Visit.Injections {
		if !i.Earlier() {
			continue
		}
		l := Task{Kind: Dose, State: Done, Number: i.Number, Text: notation.Shown(i.On) + ": " + i.Order.Product}
		if len(i.Order.Against) > 0 {
			l.Text += ", against " + due.Names(i.Order.Against)
		}
		for _, more := range []string{i.Basis, i.Why.String()} {
			if more != "" {
				l.Text += " (" + more + ")"
			}
		}
		out = append(out, l)
	}
	return append(out, Task{Kind: Dose, State: Open, Text: "save a past dose"})
}

func (in Input) closing() Task {
	l := Task{Kind: Close, State: Open, Text: "close the visit"}
	switch err := authorization.CheckClose(in.Visit, in.Now); {
	case in.Visit.Closed():
		l.State, l.Text = Done, "closed "+in.clock(*in.Visit.ClosedAt)
		if why := in.Visit.WithoutHandOff; why != "" {
			l.Text += ", without a hand-off: " + why.String()
		}
	case err != nil:
		l.State, l.Why = Locked, err.Error()
	case in.Left > 0:
		l.Why = "exam steps to do: " + notation.Counted(in.Left, "step")
	}
	return l
}
