package tui

import (
	"loosebox/exam/procedure/script"
	"loosebox/tui/nav"
	"loosebox/tui/screen/after"
	"loosebox/tui/screen/again"
	"loosebox/tui/screen/arrived"
	"loosebox/tui/screen/class"
	"loosebox/tui/screen/compare"
	"loosebox/tui/screen/decision"
	"loosebox/tui/screen/dose"
	"loosebox/tui/screen/due"
	"loosebox/tui/screen/episode"
	"loosebox/tui/screen/exam"
	"loosebox/tui/screen/handoff"
	"loosebox/tui/screen/help"
	"loosebox/tui/screen/home"
	"loosebox/tui/screen/horse"
	"loosebox/tui/screen/horseform"
	"loosebox/tui/screen/join"
	"loosebox/tui/screen/late"
	"loosebox/tui/screen/marks"
	"loosebox/tui/screen/order"
	"loosebox/tui/screen/practice"
	"loosebox/tui/screen/progress"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screen/rehearse"
	"loosebox/tui/screen/review"
	"loosebox/tui/screen/round"
	"loosebox/tui/screen/settings"
	"loosebox/tui/screen/settle"
	"loosebox/tui/screen/share"
	"loosebox/tui/screen/sheet"
	"loosebox/tui/screen/signoff"
	"loosebox/tui/screen/start"
	"loosebox/tui/screen/strike"
	"loosebox/tui/screen/sums"
	"loosebox/tui/screen/tally"
	"loosebox/tui/screen/tour"
	"loosebox/tui/screen/trend"
)

// Screens is the table of all screens: the maker of each name.
func Screens() map[nav.Name]nav.Maker {
	screens := map[nav.Name]nav.Maker{
		nav.Home:    home.New,
		nav.Horse:   horse.New,
		nav.NewForm: horseform.New,
		nav.Start:   start.New,
		nav.Exam:    exam.New,
		nav.Review:  review.New,
		nav.Compare: compare.New,
		nav.Trend:   trend.New,
		nav.Tally:   tally.New,
		nav.Help:    help.New,
		nav.Again:   again.New,
		nav.Episode: episode.New,
		nav.Sums:    sums.New,

		nav.After:    after.New,
		nav.Dose:     dose.New,
		nav.HandOff:  handoff.New,
		nav.Decision: decision.New,

		nav.Settings: settings.New,
		nav.Practice: practice.New,
		nav.Order:    order.New,
		nav.Marks:    marks.New,
		nav.Progress: progress.New,
		nav.Class:    class.New,

		nav.Due:   due.New,
		nav.Round: round.New,

		nav.Strike:  strike.New,
		nav.Late:    late.New,
		nav.SignOff: signoff.New,

		nav.Sheet: sheet.New,

		nav.Rehearse: rehearse.New,
		nav.Tour:     tour.New,
		nav.Share:    share.New,
		nav.Settle:   settle.New,
		nav.Join:     join.New,
		nav.Arrived:  arrived.New,
	}
	for _, k := range script.Kinds() {
		screens[nav.Name(k.Name)] = questions.Of(k.Name)
	}
	return screens
}
