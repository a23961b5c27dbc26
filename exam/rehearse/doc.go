// Package rehearse makes a horse that does not exist, lets a trainee examine it with the steps, routines and widgets of
// the exam, and marks the visit afterwards from its stored entries alone.
//
// A Horse is drawn by seed from a Case: the same seed gives the same horse on every machine. It answers with what the
// hand, eye or ear would get (Look, Beats, Breaths, Sounds), moves (Moves) and asks for a choice where people get hurt
// (Moment); its Truth is for the marks. Sound is synthesised to RIFF files by WriteWAV. Everything here is pure: times
// are seconds since the visit was opened, and no finding, horse, person or yard is real.
package rehearse
