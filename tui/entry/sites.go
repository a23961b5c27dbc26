package entry

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

// Sites asks one step at several sites, each with a widget of its own, so that a site keeps its input when the person goes
// to another one and back. A step without sites has the single site exam.NoSite.
type Sites struct {
	step   exam.Step
	o      Options
	sites  []exam.Site
	at     int
	fields map[exam.Site]Widget
	have   map[exam.Site]exam.Value
	closed map[exam.Site]string
}

// NewSites makes the widgets of a step at the given sites; before are the answers that are stored already. Where the step
// allows one answer for all sites, exam.Overall is added at the end. The first open site is asked first.
func NewSites(step exam.Step, sites []exam.Site, o Options, before map[exam.Site]exam.Value) *Sites {
	if len(sites) == 0 {
		sites = []exam.Site{exam.NoSite}
	}
	s := &Sites{
		step: step, o: o, sites: append([]exam.Site(nil), sites...), fields: map[exam.Site]Widget{},
		have: map[exam.Site]exam.Value{}, closed: map[exam.Site]string{},
	}
	if step.OneForAll && len(sites) > 1 && s.find(exam.Overall) < 0 {
		s.sites = append(s.sites, exam.Overall)
	}
	for site, v := range before {
		s.have[site] = v
	}
	if _, overall := s.have[exam.Overall]; overall {
		s.Go(exam.Overall)
	} else if !s.open(s.sites[0]) {
		s.Next()
	}
	return s
}

// Site is the site that is asked now.
func (s *Sites) Site() exam.Site { return s.sites[s.at] }

// Go makes a site the present one; false where the step is not asked there.
func (s *Sites) Go(site exam.Site) bool {
	i := s.find(site)
	if i >= 0 {
		s.at = i
	}
	return i >= 0
}

// Next goes to the next open site, after the last one to the first; false where none is open.
func (s *Sites) Next() bool {
	for i := 1; i <= len(s.sites); i++ {
		j := (s.at + i) % len(s.sites)
		if s.open(s.sites[j]) {
			s.at = j
			return true
		}
	}
	return false
}

// Open lists the sites without an answer or a reason; none once exam.Overall has one.
func (s *Sites) Open() []exam.Site {
	var out []exam.Site
	for _, site := range s.sites {
		if s.open(site) {
			out = append(out, site)
		}
	}
	return out
}

// Set makes a stored value the answer of a site.
func (s *Sites) Set(site exam.Site, v exam.Value) {
	s.have[site] = v
	delete(s.closed, site)
	delete(s.fields, site)
}

// Close shows a text in place of an answer at a site, such as why it was not done; the site is no longer open.
func (s *Sites) Close(site exam.Site, why string) {
	s.closed[site] = notation.CleanLine(why, 0)
	delete(s.have, site)
	delete(s.fields, site)
}

func (s *Sites) open(site exam.Site) bool {
	if site == exam.Overall && len(s.sites) > 1 {
		return false // never required
	}
	return !s.settled(site) && !s.settled(exam.Overall)
}

func (s *Sites) settled(site exam.Site) bool {
	_, done := s.have[site]
	_, closed := s.closed[site]
	return done || closed
}

func (s *Sites) find(site exam.Site) int {
	for i, own := range s.sites {
		if own == site {
			return i
		}
	}
	return -1
}

// field is the field of the present site, made when it is first needed.
func (s *Sites) field() Widget {
	site := s.Site()
	f, ok := s.fields[site]
	if !ok {
		o := s.o
		o.Before = nil
		if v, done := s.have[site]; done {
			o.Before = &v
		}
		f = New(s.step, o)
		s.fields[site] = f
	}
	return f
}

// Init starts the field of the first site.
func (s *Sites) Init() tea.Cmd { return s.field().Init() }

// Press passes a key to the widget. Left and right change the site where the widget ignores them and is not busy.
func (s *Sites) Press(p keys.Press) (KeyResult, tea.Cmd) {
	result, cmd := s.field().Press(p)
	if result != Ignored || len(s.sites) == 1 {
		return result, cmd
	}
	step := 0
	switch {
	case keys.Left().Is(p):
		step = len(s.sites) - 1
	case keys.Right().Is(p):
		step = 1
	default:
		return Ignored, cmd
	}
	if s.Busy() {
		return Taken, cmd
	}
	s.at = (s.at + step) % len(s.sites)
	return Taken, s.field().Init()
}

// Update passes a message to every widget: a tick names its widget.
func (s *Sites) Update(msg tea.Msg) tea.Cmd {
	var cmds []tea.Cmd
	for _, site := range s.sites {
		if f, ok := s.fields[site]; ok {
			if cmd := f.Update(msg); cmd != nil {
				cmds = append(cmds, cmd)
			}
		}
	}
	if len(cmds) == 0 {
		return nil
	}
	return tea.Batch(cmds...)
}

// Value is the answer at the present site.
func (s *Sites) Value() (exam.Value, error) { return s.field().Value() }

// Reading is the number that the widget shows now, in unit u; false where it shows none. A count has one before its
// questions are answered.
func (s *Sites) Reading(u notation.Unit) (float64, bool) {
	if c, ok := s.field().(*count); ok && c.ear == nil {
		return c.result.Rate, c.result.HasRate && u == notation.PerMinute
	}
	v, err := s.Value()
	if err != nil {
		return 0, false
	}
	return v.In(u)
}

// Typing says that the field of the present site takes letters as text.
func (s *Sites) Typing() bool { return s.field().Typing() }

// Busy says that a count or timer runs at the present site.
func (s *Sites) Busy() bool { return s.field().Busy() }

// Asks reports whether a count asks about its taps; the screen must then show all its lines.
func (s *Sites) Asks() bool {
	c, ok := s.field().(*count)
	return ok && c.asking != nil
}

// Keys are those of the field, and left and right where there are sites.
func (s *Sites) Keys() []keys.Binding {
	list := s.field().Keys()
	if len(s.sites) > 1 && !s.Typing() {
		list = append(list, keys.Left(), keys.Right())
	}
	return list
}
