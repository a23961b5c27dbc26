package authorization

import (
	"loosebox/exam"
	"loosebox/exam/notation"
)

// maxDrawnML is above anything that is drawn at one time; more is a slip of the decimal point.
const maxDrawnML = 20000.0

// CheckDraw says whether a line of a blood draw follows what the visit holds.
// The error is a *notation.Refusal.
func CheckDraw(v exam.Visit, l exam.DrawLine) error {
	if l.Phase == exam.DrawReady {
		return checkNewDraw(v, l)
	}
	d, ok := v.Draw(l.Number)
	if !ok {
		return &notation.Refusal{Why: "there is no blood draw with this number; what it is for comes first"}
	}
	if d.Finished() {
		return &notation.Refusal{Why: "this draw is recorded as " + d.State.String() + "; more blood is another draw"}
	}
	_, in := d.NeedleIn()
	switch l.Phase {
	case exam.DrawNeedleIn:
		if in || len(v.OpenInjections())+len(v.OpenDraws()) > 0 {
			return &notation.Refusal{Why: "a needle is in already; say first what came of it"}
		}
		if l.Place.Site == "" {
			return &notation.Refusal{Why: "say at which vein and side the needle goes in"}
		}
	case exam.DrawMissed, exam.DrawTube:
		if !in {
			return &notation.Refusal{Why: "no needle is in; first say where it goes"}
		}
		if l.Phase == exam.DrawTube && (l.Tube == nil || l.Tube.Kind == "") {
			return &notation.Refusal{Why: "say which tube was filled"}
		}
	case exam.DrawDone:
		if !in && !l.Afterwards {
			return &notation.Refusal{Why: "no needle is in; first say where it goes"}
		}
		if !l.NotKnown && !exam.IsVolume(l.VolumeML, maxDrawnML) {
			return &notation.Refusal{Why: "say how much was drawn, in mL"}
		}
	case exam.DrawStopped:
		return checkStopped(string(l.Why), l.Sign, l.VolumeML, maxDrawnML, "how much was drawn")
	case exam.DrawReady:
	default:
		return &notation.Refusal{Typed: string(l.Phase), Why: "that is not part of a blood draw"}
	}
	return nil
}

func checkNewDraw(v exam.Visit, l exam.DrawLine) error {
	switch {
	case l.Number != len(v.Draws)+1:
		return &notation.Refusal{Why: "the blood draws of a visit are numbered one after the other"}
	case l.Order == nil || notation.CleanLine(l.Order.For, 0) == "":
		return &notation.Refusal{Why: "a blood draw begins with what it is for"}
	case l.Order.Official && notation.CleanLine(l.Order.VetDraws, 0) == "":
		return &notation.Refusal{Why: "by law the accredited veterinarian draws this sample; enter who draws it"}
	case len(v.OpenInjections())+len(v.OpenDraws()) > 0:
		return &notation.Refusal{Why: "a needle is recorded as inserted, not as removed; first record what happened to it"}
	}
	return nil
}
