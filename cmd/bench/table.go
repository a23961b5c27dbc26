//go:build unix

package main

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// spread is the summary of many durations.
type spread struct {
	median, p99 time.Duration
	n           int
}

func spreadOf(all []time.Duration) spread {
	if len(all) == 0 {
		return spread{}
	}
	sorted := slices.Clone(all)
	slices.Sort(sorted)
	return spread{at(sorted, 0.5), at(sorted, 0.99), len(sorted)}
}

// at is the quantile q, from 0 to 1, of sorted durations, by the nearest rank.
func at(sorted []time.Duration, q float64) time.Duration {
	i := int(q*float64(len(sorted))+0.999999) - 1
	return sorted[min(max(i, 0), len(sorted)-1)]
}

// ms writes a duration in milliseconds.
func ms(d time.Duration) string { return fmt.Sprintf("%.2f", float64(d)/float64(time.Millisecond)) }

func us(d time.Duration) string { return fmt.Sprintf("%.0f", float64(d)/float64(time.Microsecond)) }

func ratio(a, b time.Duration) string {
	if b == 0 {
		return "-"
	}
	return fmt.Sprintf("%.2f", float64(a)/float64(b))
}

// table prints a Markdown table under a title; the first row is its head.
func table(title string, rows [][]string) {
	say("\n%s\n", title)
	for i, row := range rows {
		say("| %s |", strings.Join(row, " | "))
		if i == 0 {
			say("|%s", strings.Repeat("---|", len(row)))
		}
	}
}
