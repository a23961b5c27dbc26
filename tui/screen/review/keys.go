package review

import (
	"loosebox/tui/keys"
)

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
	switch {
	case s.closing && len(s.Left) == 0:
		return []keys.Binding{s.closes()}
	case s.closing:
		return []keys.Binding{keys.Up(), keys.Digit(), s.closes()}
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

// anyway closes with a watch still to do.
func (s *screen) anyway() keys.Binding {
	return keys.Finish().With("close anyway", "close the visit anyway; the observation is not started")
}
