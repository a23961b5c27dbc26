// Package rehearse makes a simulated horse, lets a trainee examine it with the steps, routines and
// widgets of the exam, and marks the visit afterwards from its stored entries alone.
//
// A Horse is drawn by seed from a Case: the same seed gives the same horse on every machine. It answers with what the
// hand, eye or ear would get (Look, Beats, Breaths, Sounds), moves (Moves) and asks for a choice where people get hurt
// (DangerMoment); its Truth is for the marks. Sound is synthesised to RIFF files by WriteWAV. Everything here is pure: times
// are seconds since the visit was opened, and no finding, horse, person or yard is real.
//
// A rehearsal is stored with the same code as a visit, in a namespace of its own in the record: its buckets have their own names,
// exam.CheckApart lets no opening into the wrong namespace, and check and rebuild read both. Case, seed and digest of the case stand
// in the opening, so that Mark works marks out again from the stored entries. What a rehearsal notes itself are facts with
// fields: choices, clocks, how long each site was sensed (an answer that came sooner is not earned), and the files of case
// and set exam, so that marks outlive them. Package class is the table of a class. Page sets marks as blocks that the
// screen, the command and a text share; Trainee is the scripted person of demo and tests. Sound is played by the system's
// player: oto and beep need cgo on Linux.
//
// One patient (nav.Patient) serves all screens of its rehearsal: what is seen, heard and felt, questions in the place of the
// step, entries before an answer and before closing. An address that carries it hands its deps on to whatever is opened
// from there, and the frame then shows the sign.
package rehearse
