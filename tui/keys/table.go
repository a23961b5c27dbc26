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

// Letter is the letter that gives one answer at once. It belongs to the answer and is not in Meanings.
func Letter(letter, does, more string) Binding {
	return Binding{Keys: []string{letter}, Does: does, More: more, Answer: true}
}

// Yes says that something is so.
func Yes() Binding { return Binding{Keys: []string{"y"}, Does: "yes"} }

// No says that something is not so.
func No() Binding { return Binding{Keys: []string{"x"}, Does: "no"} }

// All applies to every line what otherwise applies to one.
func All() Binding { return Binding{Keys: []string{"a"}, Does: "all"} }

// Letters is one line of the printed table for the letters of answers, which differ from question to question.
func Letters() Binding {
	return Binding{
		Keys: strings.Split("abcdefgiklmnoprtuvw", ""), Label: "letters", Does: "answer", Answer: true,
		More: "each answer has its own letter; the letter answers at once",
	}
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

// Keep keeps the tap scatter of a rehearsal as the person's own.
func Keep() Binding {
	return Binding{Keys: []string{"ctrl+s"}, Does: "save accuracy", More: "save how accurately you tapped, for your heart counts"}
}
