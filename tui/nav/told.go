package nav

import (
	"loosebox/exam"
	"loosebox/exam/procedure"
)

// Told is which cautions were shown in full in a visit since the program was
// started: each is shown so once, whichever screen it first belongs to. It is
// read and changed when keys and messages are handled, never when a screen is drawn.
func (d *Deps) Told(id exam.VisitID) procedure.Shown {
	if d.told == nil {
		d.told = map[exam.VisitID]procedure.Shown{}
	}
	if d.told[id] == nil {
		d.told[id] = procedure.Shown{}
	}
	return d.told[id]
}
