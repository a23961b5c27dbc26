package exam

import (
	"math"
	"time"

	"loosebox/exam/notation"
)

// maxInjectedML and maxDrawnML are above anything that is given or drawn through
// a needle at one time; more is a slip of the decimal point.
const (
	maxDrawnML = 20000.0
	// maxGivenML is only there to catch a slip: what was given is saved as it was.
	maxGivenML = 100000.0
)

// CheckInjection says whether a line of an injection follows what the visit
// holds. It does not look at the decision: see Allowed. The error is a *Refusal.
func CheckInjection(v Visit, l InjectionLine, at time.Time) error {
	if l.Phase == InjectionReady || l.Phase == InjectionNoted {
		return checkNew(v, l, at)
	}
	i, ok := v.Injection(l.Number)
	switch {
	case !ok && l.Phase == InjectionGiven && l.Order != nil && l.Order.Without != "":
		return checkWhole(v, l, at)
	case !ok:
		return &notation.Refusal{Why: "there is no injection with this number; the order and the check list come first"}
	}
	if i.Finished() {
		return &notation.Refusal{Why: "this injection is written down as " + string(i.State) + "; another dose is another injection"}
	}
	attempt, in := i.NeedleIn()
	switch l.Phase {
	case InjectionNeedleIn:
		return checkNeedle(v, i, l, in)
	case InjectionClear, InjectionBlood, InjectionInVein, InjectionPulsing, InjectionNotFound:
		if !in {
			return &notation.Refusal{Why: "no needle is in; first say where it goes"}
		}
		vein := l.Phase == InjectionInVein || l.Phase == InjectionPulsing
		if vein != (i.Order.Route == RouteIV) && l.Phase != InjectionNotFound {
			return &notation.Refusal{Why: string(l.Phase) + " is no answer for a needle that goes " + string(i.Order.Route)}
		}
	case InjectionGiven:
		return checkGiven(i, l, attempt, in)
	case InjectionStopped:
		if notation.CleanLine(l.Why, 0) == "" && l.Sign == "" {
			return &notation.Refusal{Why: "say why it was stopped"}
		}
		if l.VolumeML < 0 || l.VolumeML > maxGivenML || math.IsNaN(l.VolumeML) {
			return &notation.Refusal{Why: "how much went in is a number of mL, 0 for nothing"}
		}
	case InjectionReady, InjectionNoted:
	default:
		return &notation.Refusal{Typed: string(l.Phase), Why: "that is no part of an injection"}
	}
	return nil
}

// checkWhole says what is missing of an injection that is written down in one line
// after it was given, by the veterinarian's hand or word: see Order.CheckWithout.
func checkWhole(v Visit, l InjectionLine, at time.Time) error {
	switch {
	case l.Number != len(v.Injections)+1:
		return &notation.Refusal{Why: "the injections of a visit are numbered one after the other"}
	case !l.NotKnown && !IsVolume(l.VolumeML, maxGivenML):
		return &notation.Refusal{Why: "say how much was given, in mL, or that it is not known"}
	case l.GivenAt != nil && l.GivenAt.After(at):
		return &notation.Refusal{Why: "the time at which it was given has not come yet"}
	}
	return nil
}

func checkNew(v Visit, l InjectionLine, at time.Time) error {
	switch {
	case l.Order != nil && l.Phase == InjectionReady && l.Order.Without != "":
		return &notation.Refusal{Why: "what the veterinarian gives or orders aloud is saved once it was given"}
	case l.Number != len(v.Injections)+1:
		return &notation.Refusal{Why: "the injections of a visit are numbered one after the other"}
	case l.Order == nil:
		return &notation.Refusal{Why: "an injection begins with its order"}
	case l.Phase == InjectionNoted:
		if ProductKey(l.Order.Product) == "" && len(l.Order.Against) == 0 {
			return &notation.Refusal{Why: "an earlier dose needs its product, or what it is against"}
		}
		if _, err := notation.ReadDay(l.On, at); err != nil {
			return err
		}
		return nil
	case len(v.OpenInjections())+len(v.OpenDraws()) > 0:
		return &notation.Refusal{Why: "a needle is written down as in and not as out; first say what happened to it"}
	}
	for _, c := range l.Checks {
		if !c.OK && notation.CleanLine(c.Words, 0) == "" {
			return &notation.Refusal{Why: "a point of the check list that is not in order needs its words, or the injection waits"}
		}
	}
	return l.Order.Check(at)
}

func checkNeedle(v Visit, i Injection, l InjectionLine, in bool) error {
	switch {
	case in:
		return &notation.Refusal{Why: "a needle is in already; say first what was seen"}
	case !i.Order.Route.Needled():
		return &notation.Refusal{Why: "no needle is used " + string(i.Order.Route)}
	case l.Place.Site == "":
		return &notation.Refusal{Why: "say at which site and side the needle goes in"}
	case len(v.OpenInjections())+len(v.OpenDraws()) > 0:
		return &notation.Refusal{Why: "another needle is written down as in and not as out; first say what happened to it"}
	}
	for _, a := range i.Attempts {
		same := a.Place.Site == l.Place.Site && a.Place.Side == l.Place.Side
		if same && a.Seen == InjectionBlood {
			return &notation.Refusal{Why: "blood came at " + a.Place.String() + "; take a new needle and another site"}
		}
		if same && a.Seen == InjectionPulsing {
			return &notation.Refusal{Why: "blood pulsed at " + a.Place.String() + "; the needle stays out there, tell the vet"}
		}
	}
	return nil
}

// checkGiven lets a dose be given only after something was seen, unless the line
// is written down afterwards from what the person says happened.
func checkGiven(i Injection, l InjectionLine, a Attempt, in bool) error {
	if !l.NotKnown && !IsVolume(l.VolumeML, maxGivenML) {
		return &notation.Refusal{Why: "say how much was given, in mL"}
	}
	if !i.Order.Route.Needled() {
		return nil
	}
	switch {
	case !in:
		return &notation.Refusal{Why: "no needle is in; first say where it goes"}
	case l.Afterwards, i.Order.Route == RouteSC:
		return nil
	case a.Seen == InjectionClear && i.Order.Route == RouteIM, a.Seen == InjectionInVein && i.Order.Route == RouteIV:
		return nil
	case i.Order.Route == RouteIV:
		return &notation.Refusal{Why: "first see that the blood drips and does not pulse"}
	}
	return &notation.Refusal{Why: "first aspirate and say whether it was clear"}
}

// CheckDraw says whether a line of a blood draw follows what the visit holds.
// The error is a *Refusal.
func CheckDraw(v Visit, l DrawLine) error {
	if l.Phase == DrawReady {
		return checkNewDraw(v, l)
	}
	d, ok := v.Draw(l.Number)
	if !ok {
		return &notation.Refusal{Why: "there is no blood draw with this number; what it is for comes first"}
	}
	if d.Finished() {
		return &notation.Refusal{Why: "this draw is written down as " + string(d.State) + "; more blood is another draw"}
	}
	_, in := d.NeedleIn()
	switch l.Phase {
	case DrawNeedleIn:
		if in || len(v.OpenInjections())+len(v.OpenDraws()) > 0 {
			return &notation.Refusal{Why: "a needle is in already; say first what came of it"}
		}
		if l.Place.Site == "" {
			return &notation.Refusal{Why: "say at which vein and side the needle goes in"}
		}
	case DrawMissed, DrawTube:
		if !in {
			return &notation.Refusal{Why: "no needle is in; first say where it goes"}
		}
		if l.Phase == DrawTube && (l.Tube == nil || l.Tube.Kind == "") {
			return &notation.Refusal{Why: "say which tube was filled"}
		}
	case DrawDone:
		if !in && !l.Afterwards {
			return &notation.Refusal{Why: "no needle is in; first say where it goes"}
		}
		if !l.NotKnown && !IsVolume(l.VolumeML, maxDrawnML) {
			return &notation.Refusal{Why: "say how much was drawn, in mL"}
		}
	case DrawStopped:
		if notation.CleanLine(l.Why, 0) == "" && l.Sign == "" {
			return &notation.Refusal{Why: "say why it was stopped"}
		}
		if l.VolumeML < 0 || l.VolumeML > maxDrawnML || math.IsNaN(l.VolumeML) {
			return &notation.Refusal{Why: "how much was drawn is a number of mL, 0 for nothing"}
		}
	case DrawReady:
	default:
		return &notation.Refusal{Typed: string(l.Phase), Why: "that is no part of a blood draw"}
	}
	return nil
}

func checkNewDraw(v Visit, l DrawLine) error {
	switch {
	case l.Number != len(v.Draws)+1:
		return &notation.Refusal{Why: "the blood draws of a visit are numbered one after the other"}
	case l.Order == nil || notation.CleanLine(l.Order.For, 0) == "":
		return &notation.Refusal{Why: "a blood draw begins with what it is for"}
	case l.Order.Official && notation.CleanLine(l.Order.VetDraws, 0) == "":
		return &notation.Refusal{Why: "the law has the accredited veterinarian draw this sample: write down who draws it"}
	case len(v.OpenInjections())+len(v.OpenDraws()) > 0:
		return &notation.Refusal{Why: "a needle is written down as in and not as out; first say what happened to it"}
	}
	return nil
}

// CheckWatch says whether a line of a watch follows what the visit holds. The
// error is a *Refusal.
func CheckWatch(v Visit, l WatchLine, at time.Time) error {
	var running *Watch
	for i := range v.Watches {
		if v.Watches[i].Injection == l.Injection && v.Watches[i].Running() {
			running = &v.Watches[i]
		}
	}
	switch l.Phase {
	case WatchBegun:
		if i, ok := v.Injection(l.Injection); !ok || !i.Finished() || running != nil {
			return &notation.Refusal{Why: "a watch follows an injection, once"}
		}
		if l.Minutes <= 0 || l.Minutes > 24*60 {
			return &notation.Refusal{Why: "a watch has its minutes, from 1 to a day"}
		}
	case WatchReaction:
		if notation.CleanLine(l.SignWords, 0) == "" {
			return &notation.Refusal{Why: "say what was seen"}
		}
	case WatchDeclined:
		return checkDeclined(v, l)
	case WatchQuiet, WatchLeftEarly:
		if running == nil {
			return &notation.Refusal{Why: "no watch runs for this injection"}
		}
		if l.Phase == WatchLeftEarly && notation.CleanLine(l.Why, 0) == "" {
			return &notation.Refusal{Why: "the watch is not over; say why you leave it"}
		}
		if l.Phase == WatchQuiet && at.Before(running.Ends()) {
			return &notation.Refusal{Why: "the watch is not over yet; stay, or leave it with a reason"}
		}
	default:
		return &notation.Refusal{Typed: string(l.Phase), Why: "that is no part of a watch"}
	}
	return nil
}

// checkDeclined lets a watch be declined once something went in and none was begun.
func checkDeclined(v Visit, l WatchLine) error {
	if notation.CleanLine(l.Why, 0) == "" {
		return &notation.Refusal{Why: "say why the horse is not watched"}
	}
	for _, i := range v.Unwatched() {
		if i.Number == l.Injection {
			return nil
		}
	}
	return &notation.Refusal{Why: "there is no watch to decline: nothing went in, or one was begun or declined already"}
}
