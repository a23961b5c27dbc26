package after

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// needleIn says that a needle is in of which nobody said what happened, so that
// no other procedure begins.
func (in Input) needleIn() bool {
	return len(in.Visit.OpenInjections())+len(in.Visit.OpenDraws()) > 0
}

const needleIn = "A needle is recorded as inserted, not as removed. First record what happened to it."

// begin is the line of a procedure that is not begun, open or locked.
func (in Input) begin(kind Kind, c exam.CoveredProcedure, text string) Task {
	l := Task{Kind: kind, State: Open, Text: text, Procedure: &c}
	if err := authorization.CheckProcedure(in.Visit, in.Remarks, in.procedure(c)); err != nil {
		l.State, l.Why = Locked, err.Error()
	} else if in.needleIn() {
		l.State, l.Why = Locked, needleIn
	}
	return l
}

func (in Input) injections() []Task {
	var out []Task
	for _, i := range in.Visit.Injections {
		if !i.Earlier() {
			out = append(out, in.injection(i))
		}
	}
	waiting := in.waiting(exam.Injecting)
	for _, c := range waiting {
		text := "give " + c.Product
		if c.Product == "" {
			text = "an injection"
		}
		for _, more := range []string{c.Route.String(), c.Dose, c.Often()} {
			if more != "" {
				text += ", " + more
			}
		}
		out = append(out, in.begin(Injection, c, text))
	}
	switch {
	case len(waiting) > 0 || in.Visit.Closed() && len(out) > 0:
	case len(out) == 0:
		out = append(out, in.begin(Injection, exam.CoveredProcedure{Kind: exam.Injecting}, "an injection"))
	default:
		out = append(out, in.another())
	}
	return out
}

// another is one more injection where everything decided is given: open where a
// decision still covers some product.
func (in Input) another() Task {
	l := in.begin(Injection, exam.CoveredProcedure{Kind: exam.Injecting}, "another injection")
	for _, d := range in.Visit.Decisions {
		for _, c := range d.Covers {
			if c.Kind == exam.Injecting && l.State == Locked { // the last one says why
				l = in.begin(Injection, c, "another injection")
			}
		}
	}
	l.Again = true
	return l
}

// waiting lists what decisions speak of and what nothing in the visit begins
// since: each product and route once, as the newest decision has it.
func (in Input) waiting(kind exam.ProcedureKind) []exam.CoveredProcedure {
	var out []exam.CoveredProcedure
	seen := map[string]bool{}
	for _, d := range slices.Backward(in.Visit.Decisions) {
		for _, c := range d.Covers {
			key := strings.ToLower(notation.CleanLine(c.Product, 0)) + "\x00" + string(c.Route)
			if d.Corrected || c.Kind != kind || seen[key] {
				continue
			}
			if seen[key] = true; !in.begun(d, c) {
				out = append(out, c)
			}
		}
	}
	slices.Reverse(out)
	return out
}

// begun says that what a decision covers was begun after it: a draw that was not
// stopped, an injection that is not finished, or every dose that the order lets be
// given.
func (in Input) begun(d exam.Decided, c exam.CoveredProcedure) bool {
	if c.Kind == exam.Drawing {
		return slices.ContainsFunc(in.Visit.Draws, func(x exam.Draw) bool { return x.Seq > d.Since().Seq && x.State != exam.DrawStopped })
	}
	doses := authorization.DosesOf(in.Visit, d, c, 0)
	return doses.Busy != nil || d.Ruling == exam.GoAhead && !doses.Left()
}

func (in Input) injection(i exam.Injection) Task {
	l := Task{Kind: Injection, State: Done, Number: i.Number}
	name := fmt.Sprintf("%d: %s", i.Number, i.Product())
	attempt, needle := i.NeedleIn()
	switch {
	case needle:
		l.State, l.Urgent = Open, true
		l.Text = fmt.Sprintf("%s: needle inserted %s, %s", name, in.clock(attempt.At), attempt.Place)
		l.Why = "record what happened: given, removed, or stopped"
	case !i.Finished():
		l = Task{Kind: Injection, State: Open, Number: i.Number, Text: name + ": " + i.State.String()}
		p := exam.Procedure{Kind: exam.Injecting, Product: i.Order.Product, Route: i.Order.Route, At: in.Now, Order: &i.Order, Number: i.Number}
		if err := authorization.CheckProcedure(in.Visit, in.Remarks, p); err != nil {
			l.State, l.Why = Locked, err.Error()
		} else if in.needleIn() {
			l.State, l.Why = Locked, needleIn
		}
		if l.State == Open {
			l.Why = "not given yet"
		}
	default:
		l.Text = fmt.Sprintf("%s: %s", name, i.State)
		if i.GivenML > 0 {
			l.Text += " " + notation.FormatNumber(i.GivenML, 2) + " mL"
		}
		if n := len(i.Attempts); n > 0 && i.State == exam.InjectionGiven {
			l.Text += ", " + i.Attempts[n-1].Place.String()
		}
		if i.EndAt != nil {
			l.Text += ", " + in.clock(*i.EndAt)
		}
		for _, more := range []string{i.SignWords, i.Whose()} {
			if more != "" {
				l.Text += "; " + more
			}
		}
		if what := authorization.Difference(in.Visit, i); what != "" {
			l.Text += ". Tell the vet: " + strings.TrimSuffix(what, ".")
		}
	}
	return l
}

// byVet leads to what the veterinarian gave with their own hands, or ordered aloud
// in an emergency: it is saved without an earlier decision.
func (in Input) byVet() []Task {
	return []Task{{Kind: ByVet, State: Open, Again: true, Text: "save what the veterinarian gave, or ordered aloud in an emergency"}}
}

func (in Input) draws() []Task {
	var out []Task
	for _, d := range in.Visit.Draws {
		out = append(out, in.draw(d))
	}
	open := in.begin(Draw, exam.CoveredProcedure{Kind: exam.Drawing}, "").State == Open
	if len(out) == 0 || open || !in.Visit.Closed() && len(in.waiting(exam.Drawing)) > 0 {
		again, text := len(out) > 0, "draw blood"
		if again {
			text = "draw blood again"
		}
		l := in.begin(Draw, exam.CoveredProcedure{Kind: exam.Drawing}, text)
		l.Again = again && len(in.waiting(exam.Drawing)) == 0
		out = append(out, l)
	}
	return out
}

func (in Input) draw(d exam.Draw) Task {
	l := Task{Kind: Draw, State: Done, Number: d.Number}
	name := fmt.Sprintf("%d: blood for %s", d.Number, d.Order.For)
	stick, needle := d.NeedleIn()
	switch {
	case needle:
		l.State, l.Urgent = Open, true
		l.Text = fmt.Sprintf("%s: needle inserted %s, %s", name, in.clock(stick.At), stick.Place)
		l.Why = "record what happened: tubes filled, no blood, or stopped"
	case !d.Finished():
		l = in.begin(Draw, exam.CoveredProcedure{Kind: exam.Drawing}, name+": "+d.State.String())
		l.Number = d.Number
		if l.State == Open {
			l.Why = "not drawn yet"
		}
	default:
		l.Text = fmt.Sprintf("%s: %s", name, d.State)
		if ml := d.DrawnML(); ml > 0 {
			l.Text += " " + notation.FormatNumber(ml, 2) + " mL"
		}
		if n := len(d.Filled); n > 0 {
			l.Text += ", " + notation.Counted(n, "tube")
		}
		if d.EndAt != nil {
			l.Text += ", " + in.clock(*d.EndAt)
		}
		if d.Sign != "" {
			l.Text += "; " + d.SignWords
		}
	}
	return l
}
