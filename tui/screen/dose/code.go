package dose

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/gs1"
	"loosebox/exam/label"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

// asked is a question about a code that was scanned. The cursor is on no answer at first, so that enter alone chooses
// nothing.
type asked struct {
	q      *script.Question
	to     order.Answers
	cursor int
	said   string
}

// TakeCode fills in the lines from the code of a package; true where it took the text. A text that may be something else is
// taken only on the line of the lot number.
func (s *screen) TakeCode(text string) (tea.Cmd, bool) {
	if !s.Loaded || s.Saving() || s.code != nil {
		return nil, false
	}
	if _, err := gs1.Read(text, s.Deps.Now()); !gs1.Is(text) && (err != nil || !s.Form.On(s.rows.lot)) {
		return nil, false
	}
	deps, rows := s.Deps, s.rows
	return base.Read(s, func() ([]exam.Visit, error) { return deps.Store.Recent(label.Visits) }, func(visits []exam.Visit) tea.Cmd {
		if s.rows != rows || s.Saving() || s.code != nil { // it is another dose by now
			return nil
		}
		to := rows.answers()
		s.goes(to, script.ScanDose(to, text, func(item string) (label.SavedProduct, bool) { return label.Last(item, visits) }, deps.Now))
		return nil
	}), true
}

// answers are what stands in the lines that a code can fill in.
func (r *rows) answers() order.Answers {
	p := r.papers()
	return order.Answers{
		order.Product: p.Product, order.Maker: p.Maker, order.Lot: p.Lot, order.Expiry: p.Expiry, order.Item: p.Item, order.Serial: p.Serial,
		order.Against: strings.Join(p.Against, ","),
	}
}

// goes goes where a scan, or an answer about it, leads: to a question, or back to the
// lines with what was filled in.
func (s *screen) goes(to order.Answers, m script.Move) {
	s.code = nil
	switch {
	case m.Next == nil:
	case m.Next.ID == script.DoseForm:
		s.fill(to)
	default:
		s.code = &asked{q: m.Next, to: to, cursor: -1}
	}
	s.Said = m.Say
}

// fill puts the answers into the lines; the day and what it rests on stay.
func (s *screen) fill(to order.Answers) {
	r := s.rows
	expiry, _ := notation.ReadExpiry(to.Get(order.Expiry)) // it comes from a code, or is empty
	i := exam.Injection{On: r.on.Content(), Basis: r.basis.Content(), SeriesDone: len(r.whole.Set()) > 0, Order: exam.Order{
		Product: to.Get(order.Product), Maker: to.Get(order.Maker), Lot: to.Get(order.Lot), Expiry: expiry, Item: to.Get(order.Item), Serial: to.Get(order.Serial),
		Against: strings.FieldsFunc(to.Get(order.Against), func(c rune) bool { return c == ',' }),
	}}
	why := r.why.Content()
	s.rows = newRows(s, i, r.by.Content())
	s.rows.why.Put(why)
	for _, row := range []interface{ Content() string }{s.rows.product, s.rows.on, s.rows.basis} {
		if row.Content() == "" {
			s.Form.Go(row.(form.Widget))
			break
		}
	}
}

// Typed is nothing while a question is open: every press may answer it.
func (s *screen) Typed() keys.Light {
	if s.code != nil {
		return nil
	}
	return s.Screen.Typed()
}

// Typing says that letters are text.
func (s *screen) Typing() bool { return s.code == nil && s.Screen.Typing() }

// Escape closes the question; nothing is filled in.
func (s *screen) Escape() bool {
	if s.code == nil {
		return s.Screen.Escape()
	}
	s.code, s.Said = nil, "Nothing was filled in."
	return true
}

// Keys are those of the question, or of the lines.
func (s *screen) Keys() []keys.Binding {
	if s.code == nil {
		return s.Screen.Keys()
	}
	return []keys.Binding{keys.Digit().With("choose", "choose by number"), keys.Up(), keys.Accept().With("choose", "give the answer under the cursor")}
}

// Update gives keys to the question while it is open.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	if p, ok := msg.(keys.Press); ok && s.code != nil && !s.Saving() {
		s.code.press(s, p)
		return nil
	}
	return s.Screen.Update(msg)
}

func (a *asked) press(s *screen, p keys.Press) {
	a.said = ""
	last := len(a.q.Options) - 1
	switch {
	case keys.Up().Is(p):
		a.cursor = max(a.cursor-1, 0)
	case keys.Down().Is(p):
		a.cursor = min(a.cursor+1, last)
	case keys.Digit().Is(p):
		if i := int(keys.Name(p)[0] - '1'); i >= 0 && i <= last {
			a.cursor = i
		}
	case keys.Accept().Is(p) && a.cursor < 0:
		a.said = "Choose by number first."
	case keys.Accept().Is(p):
		s.goes(a.to, a.q.Options[a.cursor].Do())
	}
}

func (a *asked) draw(s *screen, size layout.Size) string {
	t := s.Deps.Theme
	var lines []string
	for i, h := range a.q.Head {
		for _, l := range layout.Wrap(notation.CleanLine(h.Words, 0), size.W) {
			if i == 0 {
				l = t.Strong.Render(l)
			}
			lines = append(lines, l)
		}
	}
	lines = append(lines, "")
	for i, o := range a.q.Options {
		for n, l := range layout.Wrap(notation.CleanLine(o.Words, 0), size.W-4) {
			lead := string(rune('1'+i)) + " "
			if n > 0 {
				lead = "  "
			}
			if i == a.cursor {
				lines = append(lines, t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+lead+l, size.W)))
			} else {
				lines = append(lines, "  "+lead+l)
			}
		}
	}
	if a.said != "" {
		lines = append(lines, "", t.Error.Render(layout.Cut(a.said, size.W)))
	}
	return form.Clip(lines, size)
}
