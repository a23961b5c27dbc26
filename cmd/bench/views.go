//go:build unix

package main

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/storage"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// sizes are the windows that everything is measured in.
func sizes() [][2]int { return [][2]int{{80, 24}, {200, 60}} }

// drawn is how often a view is drawn.
const drawn = 2000

// viewTable measures View of every screen with the large record behind it.
func (b *bench) viewTable() error {
	r, err := storage.Open(b.data, storage.Options{})
	if err != nil {
		return err
	}
	defer r.Close() //nolint:errcheck // read only
	d, err := deps(r)
	if err != nil {
		return err
	}
	found, err := r.Horses()
	if err != nil {
		return err
	}
	horse := found[0].Horse.ID
	past, err := r.Past(horse, 1)
	if err != nil {
		return err
	}
	visit := past[0].ID
	rows := [][]string{{"screen", "80x24 median µs", "80x24 p99 µs", "200x60 median µs", "200x60 p99 µs"}}
	for _, to := range []nav.Address{
		{Screen: nav.Home},
		{Screen: nav.Horse, Horse: horse},
		{Screen: nav.NewForm, Horse: horse},
		{Screen: nav.Start, Horse: horse},
		{Screen: nav.Exam, Horse: horse, Visit: visit},
		{Screen: nav.Exam, Horse: horse, Visit: visit, At: exam.Key{Step: "heart.rate"}},
		{Screen: nav.Review, Horse: horse, Visit: visit},
		{Screen: nav.Compare, Horse: horse},
		{Screen: nav.Trend, Horse: horse, At: exam.Key{Step: "temp.rectal"}},
		{Screen: nav.Tally, Heard: "heart"},
		{Screen: nav.Due, Horse: horse},
		{Screen: nav.Due},
		{Screen: nav.Round},
		{Screen: nav.Settings},
		{Screen: nav.Help, For: &nav.HelpPage{Title: "floor"}},
	} {
		row := []string{string(to.Screen)}
		if to.Screen == nav.Due && to.Horse == "" {
			row[0] += ", every horse"
		}
		if to.At.Step != "" {
			row[0] += ", " + string(to.At.Step)
		}
		for _, size := range sizes() {
			s := views(d, to, size)
			row = append(row, us(s.median), us(s.p99))
		}
		rows = append(rows, row)
	}
	table(fmt.Sprintf("One `View` of the whole frame, %d times each.", drawn), rows)
	return nil
}

func deps(r *storage.Record) (*nav.Deps, error) {
	built, err := ranges.BuiltIn()
	if err != nil {
		return nil, err
	}
	schedule, err := due.BuiltIn()
	if err != nil {
		return nil, err
	}
	table := steps.Table()
	return &nav.Deps{
		Desk:     desk.Desk{Store: r, Steps: table, Routines: steps.Routines(), Judge: judge.New(built, table)},
		Ranges:   built,
		Now:      time.Now, //nolint:forbidigo // the one clock, passed on from here
		Schedule: func() (*due.Table, string, error) { return schedule, "", nil },
		Settings: exam.Settings{Person: "Nell Harrow"}, Theme: theme.New("", false),
	}, nil
}

// views draws the screen at an address many times, once it has read all it needs.
func views(d *nav.Deps, to nav.Address, size [2]int) spread {
	app := tui.New(d, tui.Screens(), to)
	settle(app, app.Init())
	settle(app, func() tea.Msg { return tea.WindowSizeMsg{Width: size[0], Height: size[1]} })
	all := make([]time.Duration, drawn)
	for i := range all {
		start := d.Now()
		_ = app.View()
		all[i] = d.Now().Sub(start)
	}
	return spreadOf(all)
}

// settle runs a command, and the commands that its messages lead to, until none is left.
func settle(app tea.Model, cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			settle(app, c)
		}
	default:
		_, next := app.Update(msg)
		settle(app, next)
	}
}
