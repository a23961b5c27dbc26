package round

import (
	"errors"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/round"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/screen/form"
)

// question is what is asked before a line is written.
type question int

const (
	pick question = iota
	leaveOut
	seen
	handOver
	turn
)

// ask is a question about one horse or several: one line of words, or a form.
type ask struct {
	what   question
	about  string // of whom, for a person
	horses []exam.HorseID
	line   *form.Text // pick, leaveOut, seen
	form   *form.Form // handOver, turn
	choice *form.OneOf
	day    *form.Text
	person *form.Text
	words  *form.Text
	next   string // the day after
}

// Keys of the choices.
const (
	toNext, toDay, toPerson = "next", "day", "person"
)

// open asks about horses.
func (s *screen) open(what question, calls ...round.Call) tea.Cmd {
	if fail := s.named(); fail != nil {
		return fail
	}
	a := &ask{what: what, about: notation.CleanLine(calls[0].Horse.Name, 40)}
	if len(calls) > 1 {
		a.about = fmt.Sprintf("all %d to do", len(calls))
	}
	for _, c := range calls {
		a.horses = append(a.horses, c.Horse.ID)
	}
	switch what {
	case pick, leaveOut, seen:
		a.line = form.NewText(map[question]string{pick: "why today", leaveOut: "why not", seen: "what was seen"}[what], "", 0, nil, s.options()).
			Hint(func(string) string { return "in a few words; it may stay empty" })
	case handOver:
		s.askHandOver(a)
	case turn:
		s.askTurn(a, calls[0])
	}
	s.ask = a
	return nil
}

func (s *screen) options() entry.Options {
	return entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Later: s.Deps.Later, Settings: s.Deps.Settings}
}

func (s *screen) askHandOver(a *ask) {
	o := s.options()
	if at, err := time.Parse(notation.DayForm, s.day); err == nil {
		a.next = at.AddDate(0, 0, 1).Format(notation.DayForm)
	}
	a.choice = form.NewOneOf("to", []exam.Choice{
		{Key: toNext, Words: "the day after, " + notation.Shown(a.next), Hint: "it stands on the round of that day, with these words"},
		{Key: toDay, Words: "another day", Hint: "it stands on the round of that day, with these words"},
		{Key: toPerson, Words: "a person", Hint: "stays on this round as reassigned; comes back tomorrow if no visit followed"},
	}, toNext, o)
	is := func(key string) func() bool { return func() bool { return a.choice.Chosen() != key } }
	a.day = form.NewDay("day", "", 20, false, func(text string) error { return s.laterDay(a, text) }, o).Hint(form.Day(s.Deps.Now))
	a.person = form.NewText("person", "", 60, func(text string) error {
		if a.choice.Chosen() == toPerson && text == "" {
			return errors.New("type who takes over")
		}
		return nil
	}, o)
	a.words = form.NewText("words", "", 0, func(text string) error {
		if a.choice.Chosen() == toPerson && text == "" {
			return errors.New("type what the other person needs to know")
		}
		return nil
	}, o).Hint(func(string) string { return "what is left to do, what to look out for" })
	a.form = form.New(s.Deps.Theme, "reassign", "reassign")
	a.form.Add(a.choice, nil)
	a.form.Add(a.day, is(toDay))
	a.form.Add(a.person, is(toPerson))
	a.form.Add(a.words, nil)
	a.form.Begin()
}

func (s *screen) laterDay(a *ask, text string) error {
	if a.choice.Chosen() != toDay {
		return nil
	}
	day, err := notation.ReadAhead(text, s.Deps.Now())
	if err == nil && day <= s.day {
		return &notation.Refusal{Typed: text, Why: "choose a later day"}
	}
	return err
}

func (s *screen) askTurn(a *ask, c round.Call) {
	o := s.options()
	now := string(exam.TurnLast)
	if c.Group.Last() {
		now = string(exam.TurnOrdinary)
	}
	a.choice = form.NewOneOf("it comes", []exam.Choice{
		{Key: string(exam.TurnLast), Words: "last", Hint: "after all others: from another yard, in contact with a sick one, or by order"},
		{Key: string(exam.TurnOrdinary), Words: "in its place", Hint: "in order, by the veterinarian's word"},
		{Key: "record", Words: "as the record says", Hint: "cancels the earlier choice"},
	}, now, o)
	a.words = form.NewText("why", "", 0, func(text string) error {
		if a.choice.Chosen() != "record" && text == "" {
			return errors.New("type why, and on whose word")
		}
		return nil
	}, o).Hint(func(string) string { return fmt.Sprintf("valid for %d days, or until it is changed", round.DaysBack) })
	a.form = form.New(s.Deps.Theme, "decide it", "decide")
	a.form.Add(a.choice, nil)
	a.form.Add(a.words, nil)
	a.form.Begin()
}

func (a *ask) typing() bool { return a.line != nil || a.form.Typing() }

func (a *ask) keys() []keys.Binding {
	if a.line != nil {
		return []keys.Binding{
			keys.Accept().With("save", "save it; the words may stay empty"),
			keys.TakeBack().With("erase", "remove the last letter"),
		}
	}
	return a.form.Keys()
}

// answer hands a key to what is asked, and writes what was answered.
func (s *screen) answer(p keys.Press) tea.Cmd {
	a := s.ask
	if a.line != nil {
		if a.line.Press(p) != entry.Accepted {
			return nil
		}
	} else if a.form.Press(p) != form.Save || !a.form.Check() {
		return nil
	}
	lines := make([]exam.RoundLine, len(a.horses))
	for i, id := range a.horses {
		lines[i] = a.written(s.Deps.Now())
		lines[i].Horse = id
	}
	picked := exam.HorseID("")
	if a.what == pick {
		picked = a.horses[0]
	}
	return s.add(picked, lines...)
}

// written is the line that an answer makes.
func (a *ask) written(now time.Time) exam.RoundLine {
	if a.line != nil {
		act := map[question]exam.RoundAct{pick: exam.RoundPicked, leaveOut: exam.RoundLeftOut, seen: exam.RoundSeen}[a.what]
		return exam.RoundLine{Act: act, Words: a.line.Content()}
	}
	if a.what == turn {
		l := exam.RoundLine{Act: exam.RoundTurn, Words: a.words.Content()}
		if chosen := a.choice.Chosen(); chosen != "record" {
			l.Turn = exam.Turn(chosen)
		}
		return l
	}
	l := exam.RoundLine{Act: exam.RoundHanded, Words: a.words.Content()}
	switch a.choice.Chosen() {
	case toPerson:
		l.To = a.person.Content()
	case toDay:
		l.OnDay, _ = notation.ReadAhead(a.day.Content(), now) // it passed its check
	default:
		l.OnDay = a.next
	}
	return l
}

// title says what is asked.
func (a *ask) title() string {
	return map[question]string{
		pick: "On the round: ", leaveOut: "Not today: ", seen: "Seen without an exam: ", handOver: "Reassign: ", turn: "When it comes: ",
	}[a.what] + a.about
}
