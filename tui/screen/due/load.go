package due

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// shown is what is due, as lines.
type shown struct {
	horse            exam.Horse
	group            due.Part
	rows             []row
	version, problem string
}

func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (shown, error) {
		var m shown
		if deps.Schedule == nil {
			return m, errors.New("this program was built without a vaccination schedule; nothing was changed")
		}
		table, problem, err := deps.Schedule()
		if err != nil {
			return m, base.Unread("the vaccination schedule", err)
		}
		m.version, m.problem = table.Version(), problem
		if id != "" {
			err = m.one(deps, table, id)
		} else {
			err = m.all(deps, table)
		}
		return m, err
	}, s.take)
}

// one lists what is due for a horse.
func (m *shown) one(deps *nav.Deps, table *due.Table, id exam.HorseID) error {
	h, err := deps.Store.Horse(id)
	if err != nil {
		return base.Unread("this horse", err)
	}
	visits, err := deps.Store.Past(id, 0)
	if err != nil {
		return base.Unread("the visits of this horse", err)
	}
	l := table.For(h, visits, deps.Now())
	m.horse, m.group, m.rows = h, l.Part, rowsOf(l, table)
	return nil
}

// all lists every horse, the most pressing first.
func (m *shown) all(deps *nav.Deps, table *due.Table) error {
	horses, err := deps.Store.Horses()
	if err != nil {
		return base.Unread("the list of horses", err)
	}
	now := deps.Now()
	only := make([]exam.Horse, len(horses))
	for i, f := range horses {
		only[i] = f.Horse
	}
	type line struct {
		how  int
		when time.Time
		row  row
	}
	var rows []line // what is shown of a list: the lists themselves are not kept
	err = table.Each(context.Background(), deps.Store, only, now, func(l due.List) error {
		rows = append(rows, line{pressOf(l.Worst()), first(l), horseRow(l)})
		return nil
	})
	if err != nil {
		return fmt.Errorf("what is due of every horse: %w", err)
	}
	slices.SortStableFunc(rows, func(a, b line) int {
		return cmp.Or(cmp.Compare(a.how, b.how), a.when.Compare(b.when))
	})
	m.rows = make([]row, len(rows))
	for i, r := range rows {
		m.rows[i] = r.row
	}
	return nil
}

func pressOf(s due.Status) int {
	return slices.Index([]due.Status{due.Overdue, due.Due, due.Next, due.NotKnown}, s)
}

// first is the earliest due day among those with the most urgent status.
func first(l due.List) time.Time {
	var at time.Time
	earlier := func(status due.Status, by time.Time) {
		if status == l.Worst() && !by.IsZero() && (at.IsZero() || by.Before(at)) {
			at = by
		}
	}
	for _, i := range l.Items {
		earlier(i.Status, i.By)
	}
	for _, r := range l.Rechecks {
		if on, err := time.Parse(notation.DayForm, r.On); err == nil {
			if r.Time != nil {
				on = *r.Time
			}
			earlier(r.Status, on)
		}
	}
	return at
}

// horseRow is a horse in one line: the names of what is most urgent.
func horseRow(l due.List) row {
	worst := l.Worst()
	var names []string
	for _, r := range l.Rechecks {
		if r.Status == worst {
			names = append(names, "follow-up")
			break
		}
	}
	for _, i := range l.Items {
		if i.Status == worst {
			names = append(names, i.Name)
		}
	}
	r := row{
		status: string(worst), what: notation.CleanLine(l.Horse.Name, 0), given: strings.Join(names, ", "), horse: l.Horse.ID, style: styleOf(worst),
		more: []string{fmt.Sprintf("%s, %s; %s: %s", l.Horse.Kind, l.Horse.AgeWords(l.At), l.Part, strings.Join(names, ", "))},
	}
	if at := first(l); !at.IsZero() {
		r.when = "by " + at.Format(notation.DayShown)
	}
	if len(l.Items)+len(l.Rechecks) == 0 {
		r.status, r.given = "none", "nothing in the schedule for it"
	}
	if len(l.Questions) > 0 {
		r.more = append(r.more, "for the veterinarian: "+l.Questions[0])
	}
	if where := notation.CleanLine(l.Horse.Place, 0); where != "" {
		r.more = append(r.more, "location: "+where)
	}
	return r
}
