package keys

import "strings"

// The bindings that several screens share. No key needs alt or a function key;
// space counts and marks, nothing else; esc goes one step back and never leaves.

// Back goes one step back.
func Back() Binding {
	return Binding{Keys: []string{"esc"}, Does: "back", More: "go one screen back; every saved answer stays"}
}

// Help opens the help of the screen.
func Help() Binding {
	return Binding{Keys: []string{"?"}, Does: "help", More: "show every key of this screen and what it does"}
}

// Leave ends the program.
func Leave() Binding {
	return Binding{Keys: []string{"ctrl+c"}, More: "leave the program; every answer is saved, and the exam can go on later"}
}

// Accept takes the answer on the screen.
func Accept() Binding {
	return Binding{Keys: []string{"enter"}, Does: "save", More: "save this answer at once"}
}

// Choose opens or picks the line under the cursor.
func Choose() Binding { return Accept().With("open", "open the line under the cursor") }

// Up and Down move the cursor.
func Up() Binding {
	return Binding{Keys: []string{"up", "ctrl+p"}, Label: "up/down", Does: "move", More: "move the cursor"}
}

// Down moves the cursor down; it is shown together with Up.
func Down() Binding { return Binding{Keys: []string{"down", "ctrl+n"}, Label: "down"} }

// Left moves left, or to the earlier site or column.
func Left() Binding {
	return Binding{Keys: []string{"left"}, Label: "left/right", Does: "side", More: "go to the other side, site or column"}
}

// Right moves right; it is shown together with Left.
func Right() Binding { return Binding{Keys: []string{"right"}, Label: "right"} }

// PageUp and PageDown scroll by a screen.
func PageUp() Binding { return Binding{Keys: []string{"pgup"}, Label: "pgup"} }

// PageDown scrolls down by a screen.
func PageDown() Binding {
	return Binding{Keys: []string{"pgdown"}, Label: "pgdn", More: "scroll by a screen; pgup goes back"}
}

// Tap counts a beat or a breath; nothing else is on the space bar but marking.
func Tap() Binding {
	return Binding{Keys: []string{" "}, Does: "tap", More: "tap once at each beat or breath; a held key counts once"}
}

// Mark sets or clears a mark in a list of several.
func Mark() Binding {
	return Binding{Keys: []string{" "}, Does: "mark", More: "mark the line under the cursor, or clear it"}
}

// TakeBack takes the last tap, digit or time back.
func TakeBack() Binding {
	return Binding{Keys: []string{"backspace", "ctrl+h"}, Label: "backspace", Does: "erase", More: "remove the last tap, digit or time"}
}

// Digit chooses a line of a list by its number.
func Digit() Binding {
	return Binding{
		Keys:  []string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "0"},
		Label: "1-9", Does: "choose", More: "choose a line by its number",
	}
}

// Half adds half a score.
func Half() Binding {
	return Binding{Keys: []string{".", ","}, Does: "half", More: "add a half to the score, or take it away again"}
}

// Letter is the letter of one answer, which it gives at once. It is the answer's own, and no key of the table.
func Letter(letter, does, more string) Binding {
	return Binding{Keys: []string{letter}, Does: does, More: more, Answer: true}
}

// Yes says that something is so.
func Yes() Binding { return Binding{Keys: []string{"y"}, Does: "yes"} }

// No says that something is not so.
func No() Binding { return Binding{Keys: []string{"x"}, Does: "no"} }

// All does to every line what is else done to one.
func All() Binding { return Binding{Keys: []string{"a"}, Does: "all"} }

// Letters stands in the printed table for the letters of answers, which differ from
// question to question.
func Letters() Binding {
	return Binding{
		Keys: strings.Split("abcdefgiklmnoprtuvw", ""), Label: "letters", Does: "answer", Answer: true,
		More: "each answer has its own letter; the letter answers at once",
	}
}

// Usual marks the step with its defined usual answer.
func Usual() Binding {
	return Binding{Keys: []string{"u"}, Does: "usual", More: "answer this step with \"usual\" and go on"}
}

// AllUsual answers every open site of the step with its usual answer.
func AllUsual() Binding {
	return Binding{Keys: []string{"a"}, Does: "all usual", More: "answer every site that has no answer with \"usual\""}
}

// RestUsual answers what is looked at in an area, all that is not answered yet, with usual.
func RestUsual() Binding {
	return Binding{Keys: []string{"z"}, Does: "rest looks usual", More: "the rest of this area looks usual: saves only what the eye can judge"}
}

// TakeMeant takes the number that was probably meant.
func TakeMeant() Binding {
	return Binding{Keys: []string{"y"}, Does: "yes, that", More: "save the suggested number instead of the typed one"}
}

// NotDone passes a step over with a reason.
func NotDone() Binding {
	return Binding{Keys: []string{"x"}, Does: "not done", More: "mark this step as not done and choose the reason"}
}

// Write adds a note in words to the step.
func Write() Binding {
	return Binding{Keys: []string{"w"}, Does: "comment", More: "write a comment on this step"}
}

// How shows or hides how the step is done.
func How() Binding {
	return Binding{Keys: []string{"h"}, Does: "how", More: "show or hide how this step is done"}
}

// Later goes to the next step without an answer.
func Later() Binding {
	return Binding{Keys: []string{"tab"}, Does: "later", More: "go to the next step; this one stays \"to do\""}
}

// Earlier goes to the step before.
func Earlier() Binding {
	return Binding{Keys: []string{"shift+tab"}, More: "go to the step before"}
}

// Order moves the cursor into the order of steps, to jump anywhere.
func Order() Binding {
	return Binding{Keys: []string{"o"}, Does: "order", More: "choose any step from the list"}
}

// MoveGroups opens the order of a routine, to move its groups.
func MoveGroups() Binding {
	return Binding{Keys: []string{"m"}, Does: "move groups", More: "move the groups of this routine into your own order"}
}

// TakeUp takes the group under the cursor to move it, and puts it down.
func TakeUp() Binding {
	return Binding{Keys: []string{"enter"}, Does: "pick up", More: "pick up this group, move it with up and down, drop it with enter"}
}

// Save saves what the screen holds, from any line of it.
func Save() Binding {
	return Binding{Keys: []string{"ctrl+s"}, Does: "save", More: "save what this screen holds, from any line"}
}

// SaveOrder saves the order of groups.
func SaveOrder() Binding { return Save().With("save", "save this order as your own routine") }

// Review opens the review of the visit.
func Review() Binding {
	return Binding{Keys: []string{"r"}, Does: "review", More: "see what is out of range and what is not done"}
}

// After opens what follows the exam.
func After() Binding {
	return Binding{Keys: []string{"p"}, Does: "after exam", More: "hand-off, decision, injections, blood draws, observation and follow-ups"}
}

// Record leads to what rules of records ask for beside the exam; it stands in the help.
func Record() Binding {
	return Binding{Keys: []string{"n"}, More: "new: consent, people present and controlled products; all optional"}
}

// Dose writes down an earlier dose.
func Dose() Binding {
	return Binding{Keys: []string{"n"}, Does: "new past dose", More: "record a dose given before, from a passport or vaccination record"}
}

// Compare opens the comparison of a horse's visits.
func Compare() Binding {
	return Binding{Keys: []string{"c"}, Does: "compare", More: "compare the visits of this horse side by side"}
}

// New makes a new horse.
func New() Binding {
	return Binding{Keys: []string{"n"}, Does: "new horse", More: "add a new horse"}
}

// Arrived lists what came in from other laptops.
func Arrived() Binding {
	return Binding{Keys: []string{"ctrl+a"}, Does: "arrived", More: "see the visits that came in from other laptops since yesterday"}
}

// Settle lists what two laptops wrote in two ways.
func Settle() Binding {
	return Binding{Keys: []string{"ctrl+t"}, Does: "settle", More: "settle what two laptops saved in two ways, and horses entered twice"}
}

// Joined looks at two records of one horse side by side.
func Joined() Binding {
	return Binding{Keys: []string{"ctrl+o"}, More: "entered twice: look at both records and join them, or part them"}
}

// Due opens what is due.
func Due() Binding {
	return Binding{Keys: []string{"d"}, Does: "due", More: "see which vaccinations and follow-ups are due, and why"}
}

// Settings opens the settings.
func Settings() Binding {
	return Binding{Keys: []string{"g"}, Does: "settings", More: "your name, units, routine, theme, bell and tap practice"}
}

// FindHorse searches horses.
func FindHorse() Binding {
	return Binding{Keys: []string{"/"}, Does: "find", More: "find a horse by name, owner, location or chip"}
}

// Begin starts an exam of the horse.
func Begin() Binding {
	return Binding{Keys: []string{"b"}, Does: "begin exam", More: "begin an exam of this horse, or continue the unfinished one"}
}

// Edit changes what is known of the horse.
func Edit() Binding {
	return Binding{Keys: []string{"e"}, Does: "change", More: "change this horse's details; earlier versions are kept"}
}

// Finish closes the visit.
func Finish() Binding {
	return Binding{Keys: []string{"f"}, Does: "finish", More: "close the visit; later changes are kept as corrections"}
}

// Strike strikes a whole visit.
func Strike() Binding {
	return Binding{Keys: []string{"k"}, Does: "void visit", More: "void this visit (wrong horse) and enter it for the right one"}
}

// EnterAgain enters a voided visit for the right horse.
func EnterAgain() Binding {
	return Binding{Keys: []string{"n"}, Does: "enter again", More: "enter this voided visit again, for the right horse"}
}

// SignOff saves that the veterinarian read the visit.
func SignOff() Binding {
	return Binding{Keys: []string{"v"}, Does: "sign off", More: "save that a veterinarian or colleague has read this visit"}
}

// AddLater writes a late entry to a closed visit.
func AddLater() Binding {
	return Binding{Keys: []string{"n"}, Does: "new late entry", More: "add what was forgotten to this closed visit, with time and reason"}
}

// CheckAgain begins the next check of an episode.
func CheckAgain() Binding {
	return Binding{Keys: []string{"l"}, Does: "check again", More: "begin a five-minute check now and set the next one"}
}

// Episode shows the checks of an episode side by side.
func Episode() Binding {
	return Binding{Keys: []string{"ctrl+e"}, Does: "episode", More: "compare these checks: changes, doses, and when the next is due"}
}

// QuickCount counts a heart or a breath without saving it.
func QuickCount() Binding {
	return Binding{Keys: []string{"q"}, Does: "count", More: "count a heart or breathing rate; nothing is saved"}
}

// Sums opens the calculators. The key is no letter, so that it is the same on every screen.
func Sums() Binding {
	return Binding{Keys: []string{"="}, Does: "calculators", More: "calculators: weight, dose volume, paste, drip, fluid deficit, blood"}
}

// Source shows where the range under the cursor comes from.
func Source() Binding {
	return Binding{Keys: []string{"s"}, Does: "source", More: "show where these numbers come from"}
}

// ByEar switches between tapping and counting by ear.
func ByEar() Binding {
	return Binding{Keys: []string{"t"}, Does: "timed count", More: "timed count of 15, 30 or 60 s instead of tapping"}
}

// Timer starts the running timer of a slow instrument.
func Timer() Binding {
	return Binding{Keys: []string{"t"}, Does: "timer", More: "start or stop the running timer, for a slow thermometer"}
}

// CountAgain throws a count away; it asks for a second press.
func CountAgain() Binding {
	return Binding{Keys: []string{"n"}, Does: "new count", More: "discard this count and begin again; asks once more"}
}

// Dangers opens the signs of danger; it works while somebody types too.
func Dangers() Binding {
	return Binding{Keys: []string{"ctrl+d"}, Does: "danger", More: "danger signs of an injection, and what to do first"}
}

// Watched opens the watch that ends first; pressed again, the next one.
func Watched() Binding {
	return Binding{Keys: []string{"ctrl+w"}, More: "go to the observation that ends first; again for the next"}
}

// Understood acknowledges that the chip of another horse was read.
func Understood() Binding {
	return Binding{Keys: []string{"y"}, Does: "I have read this", More: "close the wrong-horse warning; nothing was answered"}
}

// Cautions shows the cautions of a procedure in full: how it is done, without harm.
func Cautions() Binding {
	return How().With("cautions", "show every caution for this step, with its source")
}

// Keep keeps the tap scatter of a rehearsal as the person's own.
func Keep() Binding {
	return Binding{Keys: []string{"ctrl+s"}, Does: "save accuracy", More: "save how accurately you tapped, for your heart counts"}
}

// NewRehearsal rehearses once more with the same case and another horse.
func NewRehearsal() Binding {
	return Binding{Keys: []string{"n"}, Does: "new rehearsal", More: "rehearse the same case with another horse"}
}

// Progress opens the rehearsals over time.
func Progress() Binding {
	return Binding{Keys: []string{"ctrl+r"}, Does: "progress", More: "see all rehearsals over time"}
}

// Everybody sets the people who rehearse side by side.
func Everybody() Binding {
	return Binding{Keys: []string{"a"}, Does: "all people", More: "compare everybody who rehearses"}
}

// OneRoutine leaves only the rehearsals of one routine, each in turn.
func OneRoutine() Binding {
	return Binding{Keys: []string{"/"}, Does: "one routine", More: "show one routine at a time, then all again"}
}

// Class opens the table of a class.
func Class() Binding {
	return Binding{Keys: []string{"c"}, Does: "class", More: "see the set exams that were taken here: by person, by step, by fault"}
}

// Tour shows somebody new round.
func Tour() Binding {
	return Binding{Keys: []string{"i"}, Does: "tour", More: "a five-minute tour of the keys with a simulated horse"}
}
