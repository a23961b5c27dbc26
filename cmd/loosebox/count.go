package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/bounded"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/ranges/csvfile"
	"loosebox/storage/outside"
	"loosebox/tui/nav"
)

func (e *env) countCommand() *cobra.Command {
	var file, what string
	var asJSON bool
	c := &cobra.Command{
		Use: "count", Short: "a rate from press times, or the tap screen alone", Args: cobra.NoArgs,
		Long: `count --times FILE reads press times in seconds, one a line ("-" reads stdin).
It prints the rate with its accuracy. In a terminal without --times it opens the
tap screen for a quick count without a horse.`,
		RunE: func(*cobra.Command, []string) error {
			heard, err := heardOf(what)
			if err != nil {
				return err
			}
			if file == "" {
				return e.tally(heard)
			}
			times, err := e.readTimes(file)
			if err != nil {
				return err
			}
			result, err := tap.Evaluate(times, tap.Options{What: heard})
			if err != nil {
				return usage("%s: %v", file, err)
			}
			return e.printCount(result, asJSON)
		},
	}
	c.Flags().StringVar(&file, "times", "", "file of press times in seconds, one a line; - for stdin")
	c.Flags().StringVar(&what, "what", "heart", "heart or breath")
	jsonFlag(c, &asJSON)
	return c
}

func heardOf(what string) (tap.What, error) {
	switch w := tap.What(what); w {
	case tap.Heart, tap.Breath:
		return w, nil
	default:
		return "", usage("--what is heart or breath, not %q", notation.CleanLine(what, 20))
	}
}

// readTimes reads press times; every bad line is named with its reason, and no
// number is made of a file with bad lines.
func (e *env) readTimes(file string) ([]float64, error) {
	in := e.typed()
	if file != "-" {
		f, err := outside.Open(file, maxOwnFile)
		if err != nil {
			if errors.Is(err, os.ErrNotExist) {
				return nil, exam.NoSuch("%s is not there", file)
			}
			return nil, fmt.Errorf("the times cannot be read: %w", err)
		}
		defer f.Close() //nolint:errcheck // read only
		in = f
	}
	return parseTimes(in, file)
}

func parseTimes(in io.Reader, file string) ([]float64, error) {
	bad := csvfile.New(file, "no rate was computed:")
	var times []float64
	scan := bufio.NewScanner(bounded.Reader(in, bounded.Limits{Bytes: maxOwnFile, Line: 200}))
	for line := 1; scan.Scan() && len(times) <= tap.MaxTaps; line++ {
		text := strings.TrimSpace(scan.Text())
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		switch text = notation.CleanLine(text, 30); {
		case err != nil:
			bad.Add(line, "%q is no number of seconds", text)
		case v != v || v-v != 0: // not a number, or infinite
			bad.Add(line, "%q is no time", text)
		case len(times) > 0 && v < times[len(times)-1]:
			bad.Add(line, "%s s comes before the line above it", text)
		default:
			times = append(times, v)
		}
	}
	if err := scan.Err(); err != nil {
		bad.Add(0, "%v", err)
	}
	if len(times) > tap.MaxTaps {
		bad.Add(0, "more than %d times; a count is never so long", tap.MaxTaps)
	}
	return times, bad.OrNil()
}

type countJSON struct {
	Schema    string         `json:"schema"`
	What      tap.What       `json:"what"`
	Taps      int            `json:"taps"`
	Used      int            `json:"used"`
	Intervals int            `json:"intervals"`
	FirstS    *float64       `json:"first_s"`
	LastS     *float64       `json:"last_s"`
	Rate      *float64       `json:"rate_per_min"`
	HalfWidth *float64       `json:"half_width_per_min"`
	Held      int            `json:"held"`
	Removed   []removedJSON  `json:"removed"`
	Questions []questionJSON `json:"questions"`
	Evenness  exam.Evenness  `json:"evenness"`
	Windows   []windowJSON   `json:"windows"`
}

type removedJSON struct {
	Tap int     `json:"tap"`
	AtS float64 `json:"at_s"`
	Why string  `json:"why"`
}

type questionJSON struct {
	Kind         string   `json:"kind"`
	AfterTap     int      `json:"after_tap"`
	AtS          float64  `json:"at_s"`
	LengthS      float64  `json:"length_s"`
	TimesUsual   float64  `json:"times_usual"`
	RateIfMissed *float64 `json:"rate_if_missed_per_min"`
	RateIfPause  *float64 `json:"rate_if_pause_per_min"`
	RateIfLess   *float64 `json:"rate_if_left_out_per_min,omitempty"`
	RateAsTapped *float64 `json:"rate_as_tapped_per_min,omitempty"`
}

type windowJSON struct {
	Seconds    int     `json:"seconds"`
	Counted    int     `json:"counted"`
	RatePerMin float64 `json:"rate_per_min"`
}

// onlyIf is a number where there is one, and null in JSON where there is none.
func onlyIf(has bool, v float64) *float64 {
	if !has {
		return nil
	}
	return &v
}

func (e *env) printCount(r tap.Result, asJSON bool) error {
	if asJSON {
		return e.printJSON(countOf(r))
	}
	if !r.HasRate {
		return e.printf("%d taps: no rate; two are needed for one\n", r.Taps)
	}
	text := notation.FormatNumber(r.Rate, 1) + " /min"
	if r.HasHalfWidth {
		text += fmt.Sprintf(" ± %s /min, this count", notation.FormatNumber(r.HalfWidth, 2))
	}
	if err := e.printf("%s: %s, %d taps in %s s, %s\n", r.What, text, r.Used, notation.FormatNumber(r.LastS-r.FirstS, 1), r.Evenness); err != nil {
		return err
	}
	for _, m := range r.Removed {
		if err := e.printf("left out: tap %d at %s s, %s\n", m.Tap, notation.FormatNumber(m.AtS, 2), m.Why); err != nil {
			return err
		}
	}
	for _, q := range r.Questions {
		if err := e.printf("%s\n", asked(q)); err != nil {
			return err
		}
	}
	switch r.Evenness {
	case tap.Irregular:
		return e.printf("Count again for 60 s and tell the veterinarian. Only an ECG names a rhythm.\n")
	case tap.TooFast:
		return e.printf("%s\n", tap.AfterTooFast)
	case exam.Even, exam.EvenWithPauses, exam.SpeedingAndSlowing, exam.TooFewToSay:
	}
	return nil
}

// asked is a question in words, with both rates in view.
func asked(q tap.Question) string {
	if q.Kind == tap.LongGap {
		return fmt.Sprintf("%s of %s s after tap %d, %s times the usual. If a tap was missed: %s /min; if the heart paused: %s /min",
			q.Kind, notation.FormatNumber(q.LengthS, 2), q.AfterTap, notation.FormatNumber(q.TimesUsual, 1),
			notation.FormatNumber(q.RateIfMissed, 1), notation.FormatNumber(q.RateIfPause, 1))
	}
	return fmt.Sprintf("%s? %s /min as tapped, %s /min without", q.Kind, notation.FormatNumber(q.RateAsTapped, 1), notation.FormatNumber(q.RateIfLess, 1))
}

func countOf(r tap.Result) countJSON {
	c := countJSON{
		Schema: "loosebox/count/1", What: r.What, Taps: r.Taps, Used: r.Used, Intervals: r.Intervals,
		FirstS: onlyIf(r.Used > 0, r.FirstS), LastS: onlyIf(r.Used > 0, r.LastS),
		Rate: onlyIf(r.HasRate, r.Rate), HalfWidth: onlyIf(r.HasHalfWidth, r.HalfWidth), Held: r.Held,
		Removed: []removedJSON{}, Questions: []questionJSON{}, Evenness: r.Evenness, Windows: []windowJSON{},
	}
	for _, m := range r.Removed {
		c.Removed = append(c.Removed, removedJSON(m))
	}
	for _, q := range r.Questions {
		gap := q.Kind == tap.LongGap
		c.Questions = append(c.Questions, questionJSON{
			Kind: q.Kind, AfterTap: q.AfterTap, AtS: q.AtS, LengthS: q.LengthS, TimesUsual: q.TimesUsual,
			RateIfMissed: onlyIf(gap, q.RateIfMissed), RateIfPause: onlyIf(gap, q.RateIfPause),
			RateIfLess: onlyIf(!gap, q.RateIfLess), RateAsTapped: onlyIf(!gap, q.RateAsTapped),
		})
	}
	for _, w := range r.Windows {
		c.Windows = append(c.Windows, windowJSON(w))
	}
	return c
}

// tally opens the tap screen alone.
func (e *env) tally(heard tap.What) error {
	if e.lineByLine() {
		return usage("the tap screen needs a terminal; without one, --times FILE reads press times")
	}
	if err := e.tables(); err != nil {
		return err
	}
	d := &nav.Deps{
		Desk: e.desk(nil), Ranges: e.ranges, Now: e.now,
		Theme: e.theme(exam.Settings{}), Bell: e.bell(),
	}
	return e.screens(d, nav.Address{Screen: nav.Tally, Heard: string(heard)})
}
