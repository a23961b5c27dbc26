package script_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/examtest"
	"loosebox/exam/judge"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/tui/screentest"
)

// start is where a script is walked from.
type start struct {
	name      string
	kind      script.Name
	number    int
	from      script.Name
	minutes   int // of the practice's watch
	covers    []exam.CoveredProcedure
	given     func(*walk) // what the record holds already
	elsewhere bool        // another laptop opened the visit
}

// walk is a script in a visit of an invented horse, driven without a screen.
type walk struct {
	t    *testing.T
	at   *order.Job
	now  time.Time
	run  script.Script
	q    *script.Question
	id   exam.VisitID
	desk desk.Desk
	// wrote is what the last answer stored, to where it led.
	wrote, to string
}

// room is what every walk is judged by; its parts are made once.
var room = sync.OnceValue(func() desk.Desk {
	table, err := ranges.BuiltIn()
	if err != nil {
		panic(err)
	}
	all := steps.Table()
	return desk.Desk{Steps: all, Routines: steps.Routines(), Judge: judge.New(table, all)}
})

func begin(t *testing.T, s start) *walk {
	t.Helper()
	d, store := room(), examtest.NewStore()
	d.Store = store
	w := &walk{t: t, desk: d, now: screentest.Now()}
	born := exam.Birth{At: time.Date(2018, 4, 1, 0, 0, 0, 0, time.UTC)}
	h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Bracken", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born, Owner: "J. Marlowe"}, "Ann Bell", w.now)
	require.NoError(t, err)
	opened, err := d.Begin(exam.Opening{Horse: h, Routine: steps.Default}, exam.Context{}, "Ann Bell", w.now.Add(-time.Hour))
	require.NoError(t, err)
	w.id = opened.Visit.ID
	if len(s.covers) > 0 {
		screentest.Decide(t, store, w.id, s.covers...)
	}
	if s.given != nil {
		s.given(w)
	}
	if s.elsewhere {
		w.desk.Store = otherLaptop{store}
		d = w.desk
	}
	w.at = &order.Job{Person: "Ann Bell", Rules: procedure.Rules{WatchMinutes: s.minutes}, Now: func() time.Time { return w.now }, Waits: d.Waits}
	w.at.Stand, err = order.Look(d, w.id)
	require.NoError(t, err)
	w.run = script.KindOf(s.kind).Make(w.at, s.number, s.from)
	w.move(script.Move{})
	return w
}

// otherLaptop is a store in which another laptop puts the needles in until this one takes
// the visit over.
type otherLaptop struct{ exam.Store }

func (s otherLaptop) Visit(id exam.VisitID) (exam.Visit, error) {
	v, err := s.Store.Visit(id)
	v.Elsewhere = len(v.Taken) == 0
	return v, err
}

// add puts into the record what stands in it before.
func (w *walk) add(e exam.Entry) { screentest.Write(w.t, w.desk.Store, w.id, e) }

// move goes where an answer leads, as the screen and the prompts do.
func (w *walk) move(m script.Move) {
	w.t.Helper()
	w.wrote, w.to = "", ""
	if len(m.Write) > 0 {
		for i := range m.Write {
			m.Write[i].Visit, m.Write[i].By, m.Write[i].At = w.id, w.run.By(), w.now
			w.wrote += line(m.Write[i])
		}
		var err error
		if w.at.Stand, err = order.Write(w.desk, m.Write...); err != nil {
			w.wrote, w.to = "", "refused: "+err.Error()
			return
		}
	}
	switch {
	case m.Say != "" && m.Next == nil:
		w.to = "says: " + m.Say
		return
	case m.Fail != nil:
		w.to = "ends: " + m.Fail.Error()
		return
	case m.Wait != nil && m.Wait() > 0:
		w.to = "waits " + m.Wait().String()
		return
	case m.To.Kind != script.Here:
		w.to = [...]string{"", "to what follows the exam", "back", "to " + string(m.To.Name)}[m.To.Kind]
		return
	}
	if m.Next == nil {
		m = w.run.Next()
	}
	w.q = m.Next
	w.to = w.q.ID
}

// line is an entry in a few words.
func line(e exam.Entry) string {
	known := func(not bool) string { return map[bool]string{true: ", not known"}[not] }
	after := func(yes bool) string { return map[bool]string{true: ", afterwards"}[yes] }
	switch {
	case e.Injection != nil:
		l := e.Injection
		return fmt.Sprintf("[%s %g mL%s%s] ", l.Phase, l.VolumeML, known(l.NotKnown), after(l.Afterwards))
	case e.Draw != nil:
		l := e.Draw
		return fmt.Sprintf("[%s %g mL%s%s] ", l.Phase, l.VolumeML, known(l.NotKnown), after(l.Afterwards))
	case e.Watch != nil:
		return fmt.Sprintf("[watch %s] ", e.Watch.Phase)
	}
	return fmt.Sprintf("[%s] ", e.Kind)
}

// typed are the texts of fields, by their keys.
func typed() map[string]string {
	return map[string]string{
		order.Lot: "L1", order.Expiry: "02/27", order.Volume: "1 mL", order.Weight: "500 kg", order.For: "blood count", order.Tubes: "serum, EDTA", "why": "in words",
		"handler": "P. Duarte", "log": "bottle 12", "drawn": "1.5", "wasted": "0.5", "how": "absorbent, sharps box", "before": "50", "after": "48.5", "second": "Eva Lind",
		"in": "0.5", "mL": "0.5", "words": "trembles", "minutes": "20", order.ChangedWords: "Make it so.", order.OrderedBy: "Dr. R. Sommer", order.Product: "Product Y", order.InML: "2",
	}
}

// answers lists what may be answered to the question, each as it is done.
func (w *walk) answers() (names []string, do map[string]func() script.Move) {
	do = map[string]func() script.Move{}
	add := func(name string, f func() script.Move) {
		names = append(names, name)
		do[name] = f
	}
	q := w.q
	for _, o := range slices.Concat(q.Options, q.More, q.Prompts) {
		name := strings.TrimSpace(o.Key + " " + o.Words)
		if o.Off != "" {
			name += " (off)"
		}
		add(name, o.Do)
	}
	if q.Enter != nil {
		add("enter", q.Enter.Do)
	}
	switch {
	case q.Form != nil:
		add("["+q.Form.Action+"]", func() script.Move {
			for _, f := range q.Form.Fields {
				if text := typed()[f.Key]; text != "" && !f.Off() && (q.Form.To.Get(f.Key) == "" || f.Key == "wasted") {
					q.Form.To.Put(f.Key, text)
				}
			}
			return q.Form.Done()
		})
	case q.Checks != nil:
		add("[every point in order]", func() script.Move {
			var given []exam.Checked
			for _, p := range q.Checks.Points {
				given = append(given, exam.Checked{Key: p.Key, OK: p.Answers[0].OK, Words: p.Answers[0].Stored})
			}
			return q.Checks.Done(given)
		})
	case q.Places != nil:
		add("[the first place]", func() script.Move { return q.Places.Chosen(q.Places.Choices[0]) })
	case q.Marks != nil:
		add("[marked]", func() script.Move { return q.Marks.Done(q.Marks.Lines[0]) })
		add("w in your own words", func() script.Move { return script.Move{Next: q.Marks.Own("")} })
	case q.Rail != nil:
		for _, p := range q.Rail.Pages {
			if p.Do != nil {
				add(p.Title, p.Do)
			}
		}
	}
	if q.Back != nil {
		add("back", func() script.Move { return script.Move{Next: q.Back()} })
	}
	return names, do
}

// row is one answer to one question.
type row struct {
	at, answer, wrote, to string
	letters, next         []string // of the question and of the one behind it
	in                    bool     // a needle is in before and after
}

// walked keeps what was walked, by the name of its start; the tests run one by one.
var walked = map[string][]row{}

// walks goes through every question that can be reached, and every answer to each.
func walks(t *testing.T, s start) []row {
	t.Helper()
	rows, before := walked[s.name]
	if before && s.name != "" {
		return rows
	}
	done := map[string]bool{}
	for paths := [][]string{nil}; len(paths) > 0; {
		path := paths[0]
		paths = paths[1:]
		w := follow(t, s, path)
		names, _ := w.answers()
		for _, name := range names {
			key := w.q.ID + "\x00" + name
			if done[key] {
				continue
			}
			done[key] = true
			to := follow(t, s, path)
			at := to.q
			_, do := to.answers()
			before := needleIn(to.at.Visit)
			to.move(do[name]())
			r := row{at: at.ID, answer: name, wrote: strings.TrimSpace(to.wrote), to: to.to, in: before && needleIn(to.at.Visit)}
			if to.q != at {
				r.letters, r.next = letters(at), letters(to.q)
				paths = append(paths, append(slices.Clone(path), name))
			}
			rows = append(rows, r)
		}
	}
	walked[s.name] = rows
	return rows
}

func needleIn(v exam.Visit) bool { return len(v.OpenInjections())+len(v.OpenDraws()) > 0 }

func follow(t *testing.T, s start, path []string) *walk {
	t.Helper()
	w := begin(t, s)
	for _, name := range path {
		_, do := w.answers()
		require.Contains(t, do, name, "%s: %s", s.name, path)
		w.move(do[name]())
	}
	return w
}

// letters are the keys that answer a question.
func letters(q *script.Question) []string {
	var out []string
	for _, o := range q.Options {
		out = append(out, o.Key)
	}
	if q.Form != nil {
		out = append(out, q.Form.Only.Key)
	}
	if q.Marks != nil {
		for i := range q.Marks.Lines {
			out = append(out, script.SeenLetter(i))
		}
		out = append(out, script.OwnWords)
	}
	if q.Over {
		for _, o := range q.More {
			out = append(out, o.Key)
		}
	}
	return slices.DeleteFunc(out, func(k string) bool { return k == "" })
}
