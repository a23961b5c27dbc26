package exam

import "slices"

// applyLine folds what an entry holds beside findings and notes: hand-off,
// decision, injection, draw, watch, recheck. Nothing in it can fail: a line that
// fits nothing before it is kept as the beginning of its own, so that a record
// is always read whole. What may be written is decided before, by CheckInjection,
// CheckDraw and CheckWatch.
func (v *Visit) applyLine(e Entry) {
	signed := Signed{At: e.At, By: e.By, Seq: e.Seq}
	if e.Corrects > 0 { // what an entry set goes with it
		v.Rechecks = slices.DeleteFunc(slices.Clone(v.Rechecks), func(r Recheck) bool { return r.Seq == e.Corrects })
	}
	if e.HandOff != nil {
		v.HandOffs = append(v.HandOffs, HandOff{*e.HandOff, signed, slices.Clone(e.Unseen)})
	}
	if e.Decision != nil {
		d := Decided{Decision: *e.Decision, Signed: signed, Without: slices.Clone(e.Unseen)}
		v.Decisions, d.First = corrected(v.Decisions, e.Corrects)
		v.Decisions = append(v.Decisions, d)
	}
	if e.Reading != nil {
		v.Readings = slices.DeleteFunc(slices.Clone(v.Readings), func(r Reading) bool { return e.Corrects > 0 && r.Seq == e.Corrects })
		v.Readings = append(v.Readings, Reading{*e.Reading, signed, slices.Clone(e.Unseen)})
	}
	if e.Taken != nil {
		v.Taken, v.Elsewhere = append(slices.Clone(v.Taken), Taken{*e.Taken, signed, slices.Clone(e.Unseen)}), false
	}
	if e.Recheck != nil {
		v.Rechecks = append(v.Rechecks, Recheck{*e.Recheck, signed})
	}
	if e.Injection != nil {
		i := v.injectionAt(e.Injection.Number, signed)
		v.Injections[i] = v.Injections[i].with(*e.Injection, signed, e.Corrects)
		if p := e.Injection.Phase; p != InjectionReady && p != InjectionNoted && v.Injections[i].Order.Without == "" {
			v.Injections[i].Missed = v.missing(e, v.Injections[i].Missed)
		}
	}
	if e.Draw != nil {
		i := v.drawAt(e.Draw.Number, signed)
		v.Draws[i] = v.Draws[i].with(*e.Draw, signed, e.Corrects)
		if e.Draw.Phase != DrawReady {
			v.Draws[i].Missed = v.missing(e, v.Draws[i].Missed)
		}
	}
	if e.Watch != nil {
		i := v.watchAt(*e.Watch, signed)
		v.Watches[i] = v.Watches[i].with(*e.Watch, signed)
	}
	if len(e.Settles) > 0 && e.Value == nil {
		v.Settled = append(slices.Clone(v.Settled), e.Settles...)
	}
	v.unaware(e)
}

// corrected marks the decision that a later entry corrects: it stays readable and
// covers nothing. It also says when that one was first written down.
func corrected(list []Decided, seq int) (out []Decided, first *Signed) {
	out = append([]Decided(nil), list...)
	for i := range out {
		if seq > 0 && out[i].Seq == seq {
			since := out[i].Since()
			out[i].Corrected, first = true, &since
		}
	}
	return out, first
}

func (v *Visit) injectionAt(number int, signed Signed) int {
	for i := range v.Injections {
		if v.Injections[i].Number == number {
			return i
		}
	}
	v.Injections = append(v.Injections, Injection{Number: number, Signed: signed})
	return len(v.Injections) - 1
}

// with returns the injection with one more line. Slices are made anew, so that
// a visit that was handed out does not change.
// A line that corrects an earlier one changes what it says, and not how far the
// injection is.
func (i Injection) with(l InjectionLine, signed Signed, corrects int) Injection {
	// Only the line that was checked sets the order; order fields on later lines are ignored.
	if l.Order != nil && (l.Phase == InjectionReady || l.Phase == InjectionNoted || len(i.Attempts) == 0 && i.State == "") {
		i.Order = *l.Order
	}
	if len(l.Checks) > 0 {
		i.Checks = l.Checks
	}
	i.Afterwards = i.Afterwards || l.Afterwards
	i.NotKnown = i.NotKnown || l.NotKnown
	if l.Phase == InjectionPulsing && l.Sign == "" {
		l.Sign, l.SignWords = "artery", "the blood pulsed"
	}
	if l.Sign != "" {
		i.Sign, i.SignWords, i.EndSeq = l.Sign, l.SignWords, signed.Seq
	}
	switch l.Phase {
	case InjectionNeedleIn:
		i.Attempts = append([]NeedleAttempt(nil), i.Attempts...)
		a := NeedleAttempt{Place: l.Place, Needle: l.Needle, Signed: signed}
		if n := i.attempt(corrects); n >= 0 {
			i.Attempts[n].Place, i.Attempts[n].Needle = a.Place, a.Needle
		} else {
			i.Attempts = append(i.Attempts, a)
		}
	case InjectionClear, InjectionBlood, InjectionInVein, InjectionPulsing, InjectionNotFound:
		if n := len(i.Attempts); n > 0 {
			i.Attempts = append([]NeedleAttempt(nil), i.Attempts...)
			i.Attempts[n-1].Seen = l.Phase
		}
	case InjectionGiven, InjectionStopped, InjectionNoted:
		if corrects == 0 || i.EndAt == nil {
			at := signed.At
			if l.GivenAt != nil {
				at = *l.GivenAt
			}
			i.EndAt, i.EndBy, i.EndSeq = &at, signed.By, signed.Seq
		}
		if len(i.Attempts) == 0 && l.Place.Site != "" { // written down whole, after it was given
			i.Attempts = []NeedleAttempt{{Place: l.Place, Needle: l.Needle, Signed: signed}}
		}
		i.GivenML, i.Why, i.Disposal = l.VolumeML, l.Why, l.Disposal
		i.GivenProduct, i.GivenRoute = l.Product, l.Route
		i.On, i.SeriesDone, i.Basis = l.On, l.SeriesDone, l.Basis
	case InjectionReady:
	}
	if corrects > 0 {
		i.Corrected = append(append([]int(nil), i.Corrected...), corrects)
	}
	// A dose from papers may turn out never to have been given.
	if corrects == 0 || i.Earlier() && (l.Phase == InjectionStopped || l.Phase == InjectionNoted) {
		i.State = l.Phase
	}
	return i
}

// attempt is the place of the attempt that an entry began; -1 for none.
func (i Injection) attempt(seq int) int {
	for n, a := range i.Attempts {
		if seq > 0 && a.Seq == seq {
			return n
		}
	}
	return -1
}

func (v *Visit) drawAt(number int, signed Signed) int {
	for i := range v.Draws {
		if v.Draws[i].Number == number {
			return i
		}
	}
	v.Draws = append(v.Draws, Draw{Number: number, Signed: signed})
	return len(v.Draws) - 1
}

func (d Draw) with(l DrawLine, signed Signed, corrects int) Draw {
	if l.Order != nil && (l.Phase == DrawReady || d.State == "") {
		d.Order = *l.Order
	}
	if len(l.Checks) > 0 {
		d.Checks = l.Checks
	}
	d.Afterwards = d.Afterwards || l.Afterwards
	d.NotKnown = d.NotKnown || l.NotKnown
	if l.Sign != "" {
		d.Sign, d.SignWords, d.EndSeq = l.Sign, l.SignWords, signed.Seq
	}
	switch l.Phase {
	case DrawNeedleIn:
		d.Sticks = slices.DeleteFunc(slices.Clone(d.Sticks), func(s Stick) bool { return s.Seq == corrects })
		d.Sticks = append(d.Sticks, Stick{Place: l.Place, Needle: l.Needle, Signed: signed})
	case DrawMissed:
		if n := len(d.Sticks); n > 0 {
			d.Sticks = append([]Stick(nil), d.Sticks...)
			d.Sticks[n-1].Missed = true
		}
	case DrawTube:
		if l.Tube != nil {
			d.Filled = slices.DeleteFunc(slices.Clone(d.Filled), func(f Filled) bool { return f.Seq == corrects })
			d.Filled = append(d.Filled, Filled{*l.Tube, signed.Seq})
		}
	case DrawDone, DrawStopped:
		if corrects == 0 || d.EndAt == nil {
			at := signed.At
			d.EndAt, d.EndBy, d.EndSeq = &at, signed.By, signed.Seq
		}
		d.VolumeML, d.Why = l.VolumeML, l.Why
	case DrawReady:
	}
	if corrects > 0 {
		d.Corrected = append(append([]int(nil), d.Corrected...), corrects)
	} else {
		d.State = l.Phase
	}
	return d
}

// watchAt is the watch that a line belongs to: the running one of its injection,
// or a new one.
func (v *Visit) watchAt(l WatchLine, signed Signed) int {
	if l.Phase != WatchBegun {
		for i := range v.Watches {
			if v.Watches[i].Injection == l.Injection && v.Watches[i].Running() {
				return i
			}
		}
	}
	v.Watches = append(v.Watches, Watch{Injection: l.Injection, Minutes: l.Minutes, Signed: signed})
	return len(v.Watches) - 1
}

func (w Watch) with(l WatchLine, signed Signed) Watch {
	w.State = l.Phase
	if l.Phase == WatchBegun {
		return w
	}
	at := signed.At
	w.EndAt, w.EndBy, w.EndSeq = &at, signed.By, signed.Seq
	w.Sign, w.SignWords, w.Why = l.Sign, l.SignWords, l.Why
	return w
}
