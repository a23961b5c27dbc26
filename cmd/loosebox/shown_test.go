package main

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// isoDay is a day as files have it. People read 2 Mar 2026.
var isoDay = regexp.MustCompile(`\b[12]\d{3}-[01]\d-[0-3]\d\b`)

// isoAllowed are the places in which a day of a file stands in a text: what a person types as an argument, what a file
// holds, and layouts by which the program reads and writes files.
var isoAllowed = []struct{ where, text, why string }{
	{`^loosebox`, `--|@2026`, "help: how the argument of a flag is written"},
	{`^cmd/loosebox/(correct|decide|dose|examples|recheck|round|whichvisit)\.go`, `^[^:]*(: |as |is |--)`, "how an argument is written"},
	{`^commands\.md|^scripts\.md`, `@2026-`, "how a visit is named"},
	{`^exam/intake/|^exam/rehearse/set`, ``, "a map or a set exam is a file"},
	{`^exam/round\.go`, `written as|write a day as`, "a line of the record, or the argument of --on"},
	{`^exam/(identity|notation/\w+|report/fhir/\w+|report/history|export/\w+)\.go`, `^2006-01-02`, "a layout by which files and typed dates are read"},
	{`^(storage|tui/screen/home/draw|exam/notation/expiry|exam/settle/double|cmd/loosebox-hub/main|cmd/loosebox/backup|exam/rehearse/set\w*)(/|\.go)`, `^2006-01-02`, "a layout for files, logs of the hub, or to compare days"},
}

func TestNoDateOfAFileIsShown(t *testing.T) {
	looked := 0
	everyText(t, func(where, text string) {
		looked++
		for _, line := range strings.Split(text, "\n") {
			if !isoDay.MatchString(line) {
				continue
			}
			ok := false
			for _, a := range isoAllowed {
				ok = ok || regexp.MustCompile(a.where).MatchString(where) && regexp.MustCompile(a.text).MatchString(line)
			}
			assert.True(t, ok, "%s: people read 2 Mar 2026: %q", where, strings.TrimSpace(cutText(line)))
		}
	})
	assert.Greater(t, looked, 9000)
}

// filesOut are words of a command line after which the output is a file's text.
var filesOut = regexp.MustCompile(`^(--json|--as|--propose|--pattern|--exam-pattern|--help|help|completion|--map|import|export)$`)

// assertDaysInWords holds what a command prints for people.
func assertDaysInWords(t *testing.T, words []string, printed string) {
	t.Helper()
	for _, w := range words {
		if filesOut.MatchString(w) {
			return
		}
	}
	for line := range strings.Lines(printed) {
		assert.False(t, isoDay.MatchString(line), "%v: people read 2 Mar 2026: %s", words, line)
	}
}

// The sign "!" is the level "tell the vet". Handling cautions, refusals and what is to be checked have signs and words of
// their own.
func TestTheSignOfTheVetMeansNothingElse(t *testing.T) {
	sign := regexp.MustCompile(`^\s*! ?\w|^!$|^\s*! %|^\s*! $`)
	levels := regexp.MustCompile(`^ranges/level\.go`)
	everyText(t, func(where, text string) {
		if strings.HasSuffix(strings.Split(where, ":")[0], ".txt") {
			return // a golden holds levels
		}
		if sign.MatchString(text) && !levels.MatchString(where) {
			t.Errorf("%s: %q begins with the sign of \"tell the vet\"", where, cutText(text))
		}
	})
}

// finer are numbers with more digits than their instrument or rule gives: a thermometer has tenths, a rate is whole and its
// accuracy has tenths, a weight from 100 is whole, an amount has three figures.
var finer = []*regexp.Regexp{
	regexp.MustCompile(`\d\.\d{2,} ?(C|F)\b`),
	regexp.MustCompile(`\d\.\d{2,} /min`),
	regexp.MustCompile(`\b\d{3,}\.\d+ (kg|lb)\b`),
	regexp.MustCompile(`\d\.\d{2,} (kg|lb|cm|in)\b`),
	regexp.MustCompile(`\d\.\d{3,} ?(mL|mg|mg/kg|mL/kg|L|h)\b`),
	regexp.MustCompile(`\d\.\d{3,} ?%`),
}

// exact are constants, and what an instrument itself is off by.
var exact = regexp.MustCompile(`exactly$|one step of the thermometer`)

func TestNumbersAreAsFineAsTheyWereMeasured(t *testing.T) {
	looked := 0
	everyText(t, func(where, text string) {
		if !strings.HasSuffix(strings.Split(where, ":")[0], ".txt") {
			return
		}
		looked++
		if exact.MatchString(text) {
			return
		}
		for _, f := range finer {
			if found := f.FindString(text); found != "" {
				t.Errorf("%s: %q is finer than it was measured: %q", where, found, strings.TrimSpace(text))
			}
		}
	})
	assert.Greater(t, looked, 5000)
}
