package keys

import (
	"slices"
	"sync"
)

// Act is what a key does that moves, enters or marks, with the one label that the line at the bottom has for it.
type Act struct {
	Key   string // as bubbletea names it
	Label string
	Means string // in a few words; no two acts mean the same
}

// Acts is the table of the keys that act on what the cursor is on. A new label belongs here only if it does what no other
// does: a test and the driver of the screens' tests hold it.
func Acts() []Act {
	return []Act{
		{"enter", "save", "save what is typed or chosen"},
		{"enter", "next", "go to the next line or question"},
		{"enter", "open", "open the line under the cursor"},
		{"enter", "choose", "take the answer under the cursor"},
		{"enter", "answer", "open a question to answer it"},
		{"enter", "type", "open a line to type in it"},
		{"enter", "confirm", "confirm what is proposed"},
		{"enter", "begin", "begin what the screen describes"},
		{"enter", "go on", "go on with what is not finished"},
		{"enter", "go there", "go to the step of the line"},
		{"enter", "correct", "correct the finding under the cursor"},
		{"enter", "close", "close what is open"},
		{"enter", "close visit", "close the visit with the reason under the cursor"},
		{"enter", "do it", "do what is under the cursor, in a rehearsal"},
		{"enter", "it was read", "record that the page was read aloud"},
		{"enter", "trend", "show the finding under the cursor over time"},
		{"enter", "rehearse", "rehearse after the tour"},
		{"enter", "pick up", "pick up a group to move it"},
		{"enter", "drop", "drop the group here"},
		{" ", "tap", "tap at a beat or a breath"},
		{" ", "mark", "set or clear a mark"},
		{" ", "one more", "one more of the line"},
		{" ", "start", "start a clock"},
		{" ", "stop", "stop the clock"},
		{" ", "again", "start the clock once more"},
		{"backspace", "erase", "erase the last letter, mark, score or tap"},
		{"backspace", "one less", "one less of the line"},
		{"backspace", "undo", "go one question back in this field"},
		{"backspace", "stop", "stop the clock and begin again"},
		{"backspace", "to the count", "leave the question"},
		{"up", "move", "move the cursor"},
		{"up", "move group", "move the group that was picked up"},
		{"up", "scroll", "scroll by a line"},
		{"pgdown", "page", "scroll by a screen"},
		{"left", "move", "move the cursor sideways"},
		{"left", "choose", "take the choice beside"},
		{"left", "side", "go to the other side or site"},
		{"left", "this leg", "go to another step at this leg"},
		{"left", "this or all sites", "answer one site, or all of them"},
		{"left", "visit", "go to another visit"},
		{"left", "day", "go to another day"},
		{"left", "measure", "go to another measure"},
		{"left", "table", "go to another table"},
		{"left", "heart or breath", "count the other one"},
		{"left", "by part", "score the parts"},
		{"left", "by sign", "score the signs"},
		{"left", "at once", "type the total"},
		{"tab", "later", "go to the next step without an answer"},
		{"1", "choose", "choose a line by its number"},
		{"1", "score", "choose a score"},
		{"1", "when", "type the time of day"},
		{"1", "do it", "do what has this number, in a rehearsal"},
	}
}

// acts is the table, made once.
var acts = sync.OnceValue(Acts)

// unlabeled is the label of a key of the table that no act has; false where an act has it.
func (b Binding) unlabeled() (label string, ok bool) {
	all := acts()
	if b.Does == "" || b.Does == closes || len(b.Keys) == 0 || !slices.ContainsFunc(all, func(a Act) bool { return a.Key == b.Keys[0] }) {
		return "", false
	}
	return b.Does, !slices.ContainsFunc(all, func(a Act) bool { return a.Key == b.Keys[0] && a.Label == b.Does })
}
