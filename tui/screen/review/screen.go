// Package review is the screen that looks over a visit: what is out of range by
// level, what was not done and why, what is left, and the way back to each.
package review

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/source"
)

// line is one line of the review; those with a place lead back to it.
type line struct {
	usual string    // of a remark: what is usual there
	past  []float64 // and the numbers of the horse's past, oldest first
	text  string
	at    exam.Key
	place bool
	head  bool
	level exam.Level
	more  []string // shown under the list while the cursor is here
	whole []string // where it comes from, beside what is known of its place
	alone bool     // whole is all there is to say: a score speaks for many places
	was   []string // what stood here before, under it, never cut
}

type screen struct {
	base.Screen
	id exam.VisitID
	to exam.Key // where the cursor stands at first; empty for the first line

	seen
	shown   exam.Visit // in the units of the person
	lines   []line
	cursor  int
	first   int
	origin  source.Panel
	closing bool // asked how to close with steps left
	finish  bool // ask it as soon as the visit is read
	stuck   bool // asked to close, and a needle or a watch keeps the visit open
	reason  int
	untold  bool   // asked what becomes of something for the veterinarian that is not handed off
	choice  int    // of that question
	without string // the reason that was chosen there
}

// New makes the review of the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit, to: to.At, finish: to.Finish}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Review"
	}
	return fmt.Sprintf("Review · %s · %s", notation.CleanLine(s.Visit.Horse.Name, 30), s.Visit.OpenedAt.Format("2 Jan 2006 15:04"))
}

func (s *screen) Right() string {
	switch {
	case !s.Loaded:
		return ""
	case !s.Visit.Stands():
		return "VOIDED, does not count"
	case s.Visit.Closed():
		return "closed " + s.Visit.ClosedAt.Format("15:04")
	default:
		if len(s.Left) == 0 {
			return "not closed"
		}
		return fmt.Sprintf("%d not answered", len(s.Left))
	}
}

func (s *screen) Cautions() []string { return s.Visit.Horse.Cautions }

// Escape closes the question how to close the visit.
func (s *screen) Escape() bool {
	if s.origin.Close() {
		return true
	}
	was := s.closing || s.stuck || s.untold
	s.closing, s.stuck, s.untold = false, false, false
	return was
}

// due leads to what is due for the horse; nothing is due for a simulated one.
func (s *screen) due() keys.Binding {
	if s.Deps.Patient != nil {
		return keys.Due().OffIf("nothing is due for a simulated horse")
	}
	return keys.Due().With("due", "see what is due for this horse; a wound asks about tetanus")
}

// Keys of the review.
func (s *screen) Keys() []keys.Binding {
	if s.origin.Open() {
		return s.origin.Keys()
	}
	if _, must, _ := s.keepsOpen(); s.stuck && !must {
		return []keys.Binding{keys.Accept().With("go there", "start the observation, or decline it with a reason"), s.anyway()}
	}
	if s.stuck {
		return []keys.Binding{keys.Accept().With("go there", "record what happened, or end the observation; then close the visit")}
	}
	if s.untold {
		return []keys.Binding{keys.Up(), keys.Digit(), keys.Accept().With("choose", "hand off now, or close the visit with this reason")}
	}
	if s.closing {
		return []keys.Binding{keys.Up(), keys.Digit(), keys.Accept().With("close visit", "close the visit; unanswered steps become not done with this reason")}
	}
	goTo := keys.Accept().With("go there", "go to the step under the cursor and come back here after its answer")
	if !s.onPlace() {
		goTo = goTo.OffIf("no step is under the cursor")
	}
	finish := keys.Finish()
	if s.Visit.Closed() {
		finish = finish.OffIf("the visit is closed already")
		goTo = goTo.With("correct", "correct this finding; the old value stays readable")
	}
	late, strike := keys.AddLater(), keys.Strike()
	if !s.Visit.Closed() {
		late = late.OffIf("the visit is open: answer the step, or write a comment")
	}
	if st := s.Visit.Struck; st != nil {
		why := "the visit is voided and cannot change"
		goTo, late = goTo.OffIf(why), late.OffIf(why)
		strike = keys.EnterAgain()
		if st.Again != "" {
			strike = strike.OffIf("it is voided and entered again already")
		}
	}
	if s.Deps.Patient != nil {
		why := "a rehearsal is not corrected"
		late, strike = late.OffIf(why), strike.OffIf(why)
	}
	return []keys.Binding{keys.Up(), keys.PageDown().With("page", ""), goTo, keys.Source(), keys.Compare(), keys.After(), s.due(), s.before(), finish, s.signOff(), s.again(), keys.Episode().With("", ""), strike, late}
}

// again begins the next check of the horse; two visits of one horse are not open at once.
func (s *screen) again() keys.Binding {
	switch b := keys.CheckAgain(); {
	case s.Deps.Patient != nil:
		return b.OffIf("a rehearsal is played once")
	case !s.Visit.Stands():
		return b.OffIf("the visit is voided: perhaps it was another horse")
	case !s.Visit.Closed():
		return b.OffIf("this visit is not finished; press f first")
	default:
		return b
	}
}

// signOff leads to the veterinarian's reading.
func (s *screen) signOff() keys.Binding {
	switch b := keys.SignOff(); {
	case s.Deps.Patient != nil:
		return b.OffIf("a rehearsal is read by nobody")
	case !s.Visit.Stands():
		return b.OffIf("the visit is voided and cannot change")
	default:
		return b
	}
}

// before corrects what was said before the exam.
func (s *screen) before() keys.Binding {
	b := keys.Edit().With("before exam", "correct what the horse did and was given before the exam")
	switch {
	case s.Deps.Patient != nil:
		return b.OffIf("a rehearsal is not corrected")
	case s.Visit.Closed():
		return b.OffIf("the visit is closed")
	}
	return b
}

// can says whether a press is a binding that works now.
func (s *screen) can(b keys.Binding, p keys.Press) bool {
	if !b.Names(p) {
		return false
	}
	now, ok := keys.Find(s.Keys(), p)
	return ok && now.Off == ""
}

func (s *screen) onPlace() bool {
	return s.cursor < len(s.lines) && s.lines[s.cursor].place
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.Loaded {
		return nil
	}
	if s.origin.Press(p) {
		return nil
	}
	if s.stuck {
		return s.pressStuck(p)
	}
	if s.untold {
		return s.pressUntold(p)
	}
	if s.closing {
		return s.pressClosing(p)
	}
	switch {
	case keys.Up().Is(p):
		s.step(-1)
	case keys.Down().Is(p):
		s.step(+1)
	case keys.PageUp().Is(p):
		s.cursor = max(s.cursor-10, 0)
		s.step(0)
	case keys.PageDown().Is(p):
		s.cursor = min(s.cursor+10, max(len(s.lines)-1, 0))
		s.step(0)
	case s.can(keys.Accept(), p):
		return nav.Go(nav.Address{Screen: nav.Exam, Visit: s.id, At: s.lines[s.cursor].at})
	case keys.Source().Is(p):
		s.show()
	case s.can(s.before(), p):
		return nav.Go(nav.Address{Screen: nav.Start, Horse: s.Visit.Horse.ID, Visit: s.id, From: nav.Review})
	case s.due().Is(p):
		return nav.Go(nav.Address{Screen: nav.Due, Horse: s.Visit.Horse.ID})
	case keys.Compare().Is(p):
		return nav.Go(nav.Address{Screen: nav.Compare, Horse: s.Visit.Horse.ID, Visit: s.id})
	case s.can(s.again(), p):
		return nav.Go(nav.Address{Screen: nav.Again, Horse: s.Visit.Horse.ID})
	case s.Deps.Patient == nil && keys.Episode().Is(p):
		return nav.Go(nav.Address{Screen: nav.Episode, Horse: s.Visit.Horse.ID, Visit: s.id})
	case keys.After().Is(p):
		return nav.Go(nav.Address{Screen: nav.After, Visit: s.id})
	case s.can(s.signOff(), p):
		return nav.Go(nav.Address{Screen: nav.SignOff, Visit: s.id})
	case s.Visit.Struck == nil && s.can(keys.AddLater(), p):
		return nav.Go(nav.Address{Screen: nav.Late, Visit: s.id})
	case s.can(keys.EnterAgain(), p), s.can(keys.Strike(), p):
		return nav.Go(nav.Address{Screen: nav.Strike, Visit: s.id})
	case keys.Finish().Is(p) && !s.Visit.Closed():
		s.ask()
	}
	return nil
}

// ask asks how to close the visit, or says what keeps it open. What is for the
// veterinarian and not handed off is asked about first.
func (s *screen) ask() {
	s.without, s.choice = "", 0
	if _, _, s.stuck = s.keepsOpen(); !s.stuck {
		s.askHow()
	}
}

// askHow asks how to close a visit that nothing keeps open.
func (s *screen) askHow() {
	_, s.untold = authorization.Untold(s.Visit, s.Verdict.Remarks)
	s.closing, s.reason = !s.untold, 2 // "no time", which claims least
}

// pressStuck leads to what keeps the visit open.
func (s *screen) pressStuck(p keys.Press) tea.Cmd {
	to, must, ok := s.keepsOpen()
	switch {
	case ok && keys.Accept().Is(p):
		s.stuck = false
		return nav.Go(to)
	case !must && s.anyway().Is(p):
		s.stuck = false
		s.askHow()
	}
	return nil
}

// keepsOpen is what is still to do before the visit is closed; must says that it
// cannot be closed before.
func (s *screen) keepsOpen() (to nav.Address, must, ok bool) {
	if to, _, ok = nav.Unfinished(s.Visit); ok {
		return to, true, true
	}
	to, _, ok = nav.Unwatched(s.Visit)
	return to, false, ok
}

// anyway closes with a watch still to do.
func (s *screen) anyway() keys.Binding {
	return keys.Finish().With("close anyway", "close the visit anyway; the observation is not started")
}

// step moves the cursor, over headings.
func (s *screen) step(by int) {
	n := len(s.lines)
	if n == 0 {
		return
	}
	i := s.cursor + by
	for i >= 0 && i < n && s.lines[i].head {
		if by < 0 {
			i--
		} else {
			i++
		}
	}
	if i >= 0 && i < n {
		s.cursor = i
	}
}

func (s *screen) pressClosing(p keys.Press) tea.Cmd {
	if len(s.Left) == 0 {
		if keys.Accept().Is(p) {
			s.closing = false
			return s.close("")
		}
		return nil
	}
	reasons := exam.Reasons()[:4] // "other" wants words, which belong to one step
	switch {
	case keys.Up().Is(p):
		s.reason = (s.reason + len(reasons) - 1) % len(reasons)
	case keys.Down().Is(p):
		s.reason = (s.reason + 1) % len(reasons)
	case keys.Digit().Is(p):
		if i := int(p.Runes[0] - '1'); i >= 0 && i < len(reasons) {
			s.reason = i
		}
	case keys.Accept().Is(p):
		s.closing = false
		return s.close(reasons[s.reason])
	}
	return nil
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	return s.draw(size)
}
