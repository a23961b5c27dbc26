package keys

import (
	"slices"
	"sync"
)

// Meaning is the one thing that a key means, on every screen.
type Meaning struct {
	Key    string   // as bubbletea names it
	Means  string   // in a few words
	Labels []string // what the line at the bottom says of it; no other key has such a label
}

// Meanings is the table of the letters, signs and ctrl combinations that act, one row a key. Keys that act on what the
// cursor is on are in Acts. Letters of answers, and letters that are typed, are in neither.
func Meanings() []Meaning {
	return []Meaning{
		{"a", "all of them at once, or show all", []string{"all usual", "show all", "changes only", "all people", "one person", "reassign all", "confirm all", "all measures", "one measure"}},
		{"b", "begin an exam of this horse", []string{"begin exam", "go on"}},
		{"c", "compare side by side", []string{"compare", "class"}},
		{"d", "what is due", []string{"due"}},
		{"e", "change what is saved", []string{"change", "before exam"}},
		{"f", "finish", []string{"finish", "seen", "import", "close anyway"}},
		{"g", "settings", []string{"settings"}},
		{"h", "how it is done, with its cautions", []string{"how", "cautions", "words"}},
		{"i", "the tour", []string{"tour"}},
		{"j", "rehearse on a simulated horse", []string{"rehearse"}},
		{"k", "void a visit", []string{"void visit"}},
		{"l", "look at this horse again, by the hour", []string{"check again", "go on checking"}},
		{"m", "move to another place, day or person", []string{"move groups", "reassign"}},
		{"n", "new: a horse, a count, an entry", []string{"new horse", "new count", "new practice", "new rehearsal", "new past dose", "new late entry", "enter again"}},
		{"o", "the order of steps, or of today's horses", []string{"order", "round"}},
		{"p", "what follows the exam", []string{"after exam"}},
		{"q", "a count that is not saved", []string{"count"}},
		{"r", "the review", []string{"review"}},
		{"s", "the source, or why", []string{"source", "why"}},
		{"t", "time by the clock", []string{"timer", "timed count", "tap instead"}},
		{"u", "usual", []string{"usual", "none, begin"}},
		{"v", "sign off", []string{"sign off"}},
		{"w", "a comment in words", []string{"comment"}},
		{"x", "not done, or no, with a reason", []string{"not done", "skip", "not the same", "put back"}},
		{"y", "yes", []string{"yes, that", "the same", "I have read this"}},
		{"z", "the rest of this area looks usual", []string{"rest looks usual"}},
		{"/", "find, or leave only some", []string{"find", "pick", "one routine", "next exam"}},
		{"=", "the calculators", []string{"calculators"}},
		{"?", "every key of this screen", []string{"help"}},
		{".", "half", []string{"half"}},
		{"ctrl+a", "what came in from other laptops", []string{"arrived"}},
		{"ctrl+d", "signs of danger, and what to do first", []string{"danger"}},
		{"ctrl+e", "the checks of an episode side by side", []string{"episode"}},
		{"ctrl+l", "the sound of a simulated horse", []string{"sound"}},
		{"ctrl+o", "both records of a horse that was entered twice", nil},
		{"ctrl+r", "rehearsals over time", []string{"progress"}},
		{"ctrl+s", "save what this screen holds", nil}, // a form says what it saves
		{"ctrl+t", "what two laptops saved in two ways", []string{"settle"}},
		{"ctrl+w", "the observation that ends first", nil},
		{"ctrl+c", "leave the program", []string{"leave"}},
	}
}

// aliases are second keys for moving and erasing, for people used to them.
func aliases() []string { return []string{"ctrl+p", "ctrl+n", "ctrl+h", ","} }

// closes is the label of a key that closes what it opened.
const closes = "close"

// meanings is the table, made once: tests look it up at every key press.
var meanings = sync.OnceValue(Meanings)

// Fault is a sentence that says how a binding differs from Meanings and Acts; empty where it does not. Tests use it.
func (b Binding) Fault() string {
	if b.Answer || b.own {
		return ""
	}
	if label, ok := b.unlabeled(); ok {
		return b.Shown() + " is shown as " + label + ", which is no act of the table of acts"
	}
	for _, key := range b.Keys {
		if len([]rune(key)) > 1 && !ctrl(key) || key == " " || key[0] >= '0' && key[0] <= '9' || slices.Contains(aliases(), key) {
			continue
		}
		at := slices.IndexFunc(meanings(), func(m Meaning) bool { return m.Key == key })
		if at < 0 {
			return key + " means nothing in the table of meanings"
		}
		m := meanings()[at]
		if b.Does != "" && b.Does != closes && m.Labels != nil && !slices.Contains(m.Labels, b.Does) {
			return key + " means " + m.Means + ", and is shown as " + b.Does
		}
	}
	return ""
}

func ctrl(key string) bool { return len(key) > 5 && key[:5] == "ctrl+" }
