package settings

import (
	"fmt"
	"slices"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/screen/form"
	"loosebox/tui/theme"
)

const (
	practiceLabel = "tap practice"
	routineLabel  = "default routine"

	maxName      = 60 // characters, as where an exam begins
	nameHint     = "stands beside every entry"
	practiceHint = "30 taps on a steady pulse measure how much your taps vary"
)

// row is one setting: a choice, or a text, or the way to the practice.
type row struct {
	label   string
	heading string // above the first row of a group
	choice  *form.OneOf
	text    *written
	put     func(*exam.Settings, string) // writes the chosen key, or the text that passed its check
	key     exam.SettingKey              // of a setting of the practice, which put does not write
}

// written is a setting that is typed.
type written struct {
	text, shown, hint string
	most              int // characters
	check             func(string) error
}

// next takes the choice after the present one, and after the last the first.
func (r row) next() {
	before := r.choice.Chosen()
	if r.choice.Press(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRight}}); r.choice.Chosen() == before {
		r.choice.Press(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyHome}})
	}
}

func (s *screen) build() {
	choice := func(label string, choices []exam.Choice, chosen string, put func(*exam.Settings, string)) row {
		return row{label: label, choice: form.NewOneOf(label, choices, chosen, s.options()), put: put}
	}
	routines, routine := s.routines()
	bell := map[bool]string{false: "on", true: "off"}
	look := s.now.Theme
	if !slices.ContainsFunc(s.themes(), func(c exam.Choice) bool { return c.Key == look }) {
		look = string(theme.Dark)
	}
	s.rows = []row{
		{label: "your name", text: s.person(), put: func(n *exam.Settings, text string) { n.Person = text }},
		choice(routineLabel, routines, routine, func(n *exam.Settings, key string) { n.Routine = key }),
		{label: shareLabel, text: s.sharing()}, // where a hand finds it: it opens a page
		choice("temperature", units("C", "F", "101.1 can only be F, 38.4 only C"), s.unit(notation.Celsius), putUnit(notation.Celsius)),
		choice("weight", units("kg", "lb", "500 can be either"), s.unit(notation.Kilograms), putUnit(notation.Kilograms)),
		choice("length", lengths(), s.length(), putLength),
		choice("dates like 3/4", dayOrders(), dayOrder(s.now.DayOrder), func(n *exam.Settings, key string) {
			if n.DayOrder = notation.DayOrder(key); key == askOrder {
				n.DayOrder = notation.AskDayOrder
			}
		}),
		choice("theme", s.themes(), look, func(n *exam.Settings, key string) { n.Theme = key }),
		choice("bell", []exam.Choice{
			{Key: "on", Words: "on", Hint: "rings when a timed count or timer ends, and at each practice beat"},
			{Key: "off", Words: "off", Hint: "nothing rings; the end is shown only"},
		}, bell[s.now.Silent], func(n *exam.Settings, key string) { n.Silent = key == "off" }),
		choice("rehearsal", s.heard(), heardKey(s.now.Rehearsal), func(n *exam.Settings, key string) { n.Rehearsal = heardValue(key) }),
	}
	s.rows[0].heading = "this laptop"
	s.group("the practice, on every laptop",
		s.common(exam.SettingVetPhone, phone(s.now.VetPhone, "none set", phoneHint)),
		s.common(exam.SettingVetNight, phone(s.now.VetNight, "the same", nightHint)),
		s.common(exam.SettingSiteML, s.siteLimit()),
		s.common(exam.SettingWatch, s.watch()),
		s.head(exam.SettingName, s.now.Practice.Name, "the name at the head of printed pages"),
		s.head(exam.SettingAddress, s.now.Practice.Address, "street and town, under the name"),
		s.head(exam.SettingPhone, s.now.Practice.Phone, "where the owner reaches the practice"),
		s.head(exam.SettingLicence, s.now.Practice.Licence, "the license number, for printed pages"),
		s.logo(),
		s.paper())
	if s.shares() {
		s.rows = append(s.rows, s.sent())
	}
	s.group("backups of this laptop",
		row{label: "backup folder", text: s.backupFolder(), put: func(n *exam.Settings, text string) { n.BackupFolder = text }},
		row{label: "backup key", text: s.backupKey(), put: func(n *exam.Settings, text string) { n.BackupRecipient = text }})
	s.group("counting on this laptop",
		choice("heart accuracy", s.halfWidths(s.now.WantedHeart), wanted(s.now.WantedHeart), func(n *exam.Settings, key string) { n.WantedHeart = number(key) }),
		choice("breath accuracy", s.halfWidths(s.now.WantedBreath), wanted(s.now.WantedBreath), func(n *exam.Settings, key string) { n.WantedBreath = number(key) }),
		row{label: practiceLabel})
}

// group adds rows that belong together under a heading.
func (s *screen) group(heading string, rows ...row) {
	rows[0].heading = heading
	s.rows = append(s.rows, rows...)
}

// askOrder is the key of notation.AskDayOrder, which is empty.
const askOrder = "ask"

func dayOrder(o notation.DayOrder) string {
	if o == notation.AskDayOrder {
		return askOrder
	}
	return string(o)
}

func dayOrders() []exam.Choice {
	return []exam.Choice{
		{Key: askOrder, Words: "ask", Hint: "3/4/2026 can mean two dates: the program asks"},
		{Key: string(notation.MonthFirst), Words: string(notation.MonthFirst), Hint: "3/4/2026 is March 4, as in the United States"},
		{Key: string(notation.DayFirst), Words: string(notation.DayFirst), Hint: "3/4/2026 is 3 April"},
	}
}

const (
	phoneHint = "shown with \"tell the vet\", on the hand-off and with the danger signs"
	nightHint = "a second number for nights and weekends; empty: the same"
)

// phone is a telephone number; none is said where it is empty.
func phone(number, none, hint string) *written {
	text := notation.CleanLine(number, exam.MaxPhone)
	w := &written{text: text, shown: text, hint: hint, most: exam.MaxPhone}
	if text == "" {
		w.shown = none
	}
	return w
}

// What is heard of a simulated horse, as the settings keep it.
const (
	heardOff    = "off"
	heardBell   = "bell"
	heardPlayed = "played"
)

// heard are the choices of what is heard in a rehearsal.
func (s *screen) heard() []exam.Choice {
	play := "heart, breath and gut are played as sound"
	if s.Deps.Player == nil {
		play = "as sound; no player was found here, so it is silent"
	}
	return []exam.Choice{
		{Key: heardOff, Words: "silent", Hint: "the simulated horse is seen only; l in a rehearsal changes it"},
		{Key: heardBell, Words: "bell", Hint: "the terminal's bell at each beat; l in a rehearsal changes it"},
		{Key: heardPlayed, Words: "played", Hint: play},
	}
}

func heardKey(set string) string {
	if set == heardBell || set == heardPlayed {
		return set
	}
	return heardOff
}

func heardValue(key string) string {
	if key == heardOff {
		return ""
	}
	return key
}

// routines are the built-in ones and a person's own, and the one offered first.
func (s *screen) routines() (choices []exam.Choice, chosen string) {
	gone := s.now.Routine != ""
	for i, r := range s.Deps.Routines {
		c := exam.Choice{Key: r.Name, Words: r.Title, Hint: r.About}
		if r.Own {
			c.Words += " (own)"
		}
		if r.Name == s.now.Routine || i == 0 {
			chosen = r.Name
		}
		gone = gone && r.Name != s.now.Routine
		choices = append(choices, c)
	}
	if gone && len(choices) > 0 {
		choices[0].Hint = fmt.Sprintf("%q is not there any more, this one is offered instead", notation.CleanLine(s.now.Routine, 40))
	}
	return choices, chosen
}

// halfWidths are the choices of how exact a count must be to be called firm, and
// the present one where it is another.
func (s *screen) halfWidths(present float64) []exam.Choice {
	offered := []float64{0.5, 1, 2}
	if present > 0 && !slices.Contains(offered, present) {
		offered = append(offered, present)
		slices.Sort(offered)
	}
	sign := "±"
	if s.Deps.Theme.ASCII {
		sign = "+/-"
	}
	out := make([]exam.Choice, len(offered))
	for i, v := range offered {
		out[i] = exam.Choice{Key: wanted(v), Words: sign + " " + wanted(v) + " /min", Hint: "a count is accepted as steady at this accuracy"}
	}
	return out
}

func wanted(v float64) string {
	if v <= 0 {
		v = 1
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

func number(key string) float64 {
	v, _ := strconv.ParseFloat(key, 64) // the key was made by wanted
	return v
}

func (s *screen) themes() []exam.Choice {
	out := []exam.Choice{
		{Key: string(theme.Dark), Words: "dark", Hint: "light letters on a dark ground"},
		{Key: string(theme.Light), Words: "light", Hint: "dark letters on a light ground"},
		{Key: string(theme.Sunlight), Words: "sunlight", Hint: "no color, strong contrast: set the terminal to black on white"},
	}
	if s.Deps.Theme.Name == theme.Plain {
		for i := range out {
			out[i].Hint = "this terminal shows no color now; the choice is saved"
		}
	}
	return out
}
