// Package injection is the screen of one injection: the order, the check list,
// the site, the needle and what is seen, the product, and the watch that follows.
// It asks the gate before it opens, before the needle goes in and before the
// product does. One file holds one part.
package injection

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// screen is the flow of an injection over its screen.
type screen struct {
	*flow.Screen
	number int
	fresh  bool // another injection is wanted, not one that was begun
	sheet  *needle.Sheet
	// lately is the entry of the needle that went in while this screen was open; of
	// any other needle the person is asked what happened.
	lately int
	vein   int // the next of procedure.VeinQuestions
	// form is the order form as it was shown last; onward goes on from a changed
	// order to the check list; outside writes down what the veterinarian gave.
	form    flow.Part
	onward  bool
	outside bool
}

// New makes the screen of the injection in the address; number 0 begins one.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	to.Screen = nav.Injection
	s := &screen{Screen: flow.New(deps, to), number: max(to.Number, 0), outside: to.Number == needle.ByVet}
	s.Run(s)
	return s.Screen
}

// Number is that of the injection; 0 while nothing is written down.
func (s *screen) Number() int { return s.number }

// Title names the horse and the product.
func (s *screen) Title() string {
	title := "Injection: " + s.Horse()
	if i, ok := s.injection(); ok {
		title += " · " + exam.CleanLine(i.Order.Product, 40)
	} else if s.sheet != nil {
		title += " · " + exam.CleanLine(s.sheet.Cover.Product, 40)
	}
	return title
}

// Right says which injection it is and how far.
func (s *screen) Right() string {
	i, ok := s.injection()
	if !ok {
		return "new"
	}
	return fmt.Sprintf("%d: %s", i.Number, i.State)
}

// Sources says where its volume, limits, needles and sites come from.
func (s *screen) Sources() []explain.Part {
	if i, ok := s.injection(); ok {
		return needle.InjectionSources(i.Order, procedure.RulesOf(s.Deps.Settings))
	}
	if s.sheet == nil {
		return nil
	}
	return s.sheet.Sources()
}

func (s *screen) injection() (exam.Injection, bool) { return s.Stand.Visit.Injection(s.number) }

// Next is the part for the visit as it stands.
func (s *screen) Next() flow.Part {
	v := s.Stand.Visit
	if draws := v.OpenDraws(); len(draws) > 0 {
		return flow.NewOther(s.Screen, nav.Draw, draws[0].Number)
	}
	if open := v.OpenInjections(); len(open) > 0 && open[0].Number != s.number {
		if s.number > 0 {
			return flow.NewOther(s.Screen, nav.Injection, open[0].Number)
		}
		s.number = open[0].Number
	}
	i, begun := s.injection()
	switch {
	case !begun && s.outside:
		return s.byVet()
	case !begun:
		return s.begin()
	}
	s.By = i.By
	switch needle.StageOf(i) {
	case needle.Placing:
		return s.placing(i)
	case needle.Seeing:
		return s.seeing(i)
	case needle.Giving:
		return s.giving(i)
	case needle.Ended:
		return s.ended(i)
	case needle.Ordering:
	}
	return s.begin()
}

// begin asks the gate, then what is to be injected.
func (s *screen) begin() flow.Part {
	open, err := s.Stand.Open(s.Deps.Now())
	left := s.unfinished()
	switch {
	case err != nil && (len(left) == 0 || s.fresh):
		s.sheet = nil
		return flow.NewLocked(s.Screen, err)
	case s.sheet != nil:
		return s.taken(open)
	case len(left) > 0 && !s.fresh, len(open) > 1:
		return s.which(open, left)
	}
	s.sheet = needle.NewSheet(s.Deps, s.Stand, open[0])
	return s.ordering()
}

// unfinished are injections whose order is written down and nothing more.
func (s *screen) unfinished() []exam.Injection {
	var out []exam.Injection
	for _, i := range s.Stand.Visit.Injections {
		if !i.Finished() {
			out = append(out, i)
		}
	}
	return out
}

// which asks whether to go on with an order that was begun, or which of the
// decided products is given.
func (s *screen) which(open []exam.Cover, left []exam.Injection) flow.Part {
	var options []flow.Option
	for _, i := range left {
		options = append(options, flow.Option{
			Words: fmt.Sprintf("go on with injection %d, %s", i.Number, i.Order.Product), Hint: fmt.Sprintf("%s since %s", i.State, i.At.Format("15:04")),
			Do: func() tea.Cmd { s.number = i.Number; s.Screen.Next(); return nil },
		})
	}
	for _, c := range open {
		options = append(options, flow.Option{Words: c.String(), Hint: c.Dose, Do: func() tea.Cmd {
			s.fresh, s.sheet = true, needle.NewSheet(s.Deps, s.Stand, c)
			s.Screen.Next()
			return nil
		}})
	}
	return &flow.Pick{S: s.Screen, Options: options, Head: func(int) []string {
		return []string{"", s.Deps.Theme.Strong.Render("What is given? Decided by the veterinarian:")}
	}}
}
