package ranges_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/ranges"
)

// LIMITS.md is the table of classes by measures with limits and tiers, and the counts of tiers, as the tables have them.
// LOOSEBOX_UPDATE=1 writes it again.
func TestLimitsFile(t *testing.T) {
	const name = "LIMITS.md"
	want := limitsFile(builtIn(t))
	if os.Getenv("LOOSEBOX_UPDATE") != "" {
		require.NoError(t, os.WriteFile(name, []byte(want), 0o600))
	}
	got, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, want, string(got), "LOOSEBOX_UPDATE=1 go test ./ranges writes it again")
}

func limitsFile(table *ranges.Table) string {
	var b strings.Builder
	b.WriteString("# Limits by class and measure\n\nWritten by `LOOSEBOX_UPDATE=1 go test ./ranges -run LimitsFile`; the tables are in `ranges/tables`.\n" +
		"`loosebox ranges` prints each limit with its source, `loosebox ranges --summary` the shares of tiers by class.\n\n" +
		"The letter after a limit is its tier: P published, G practice page, C common practice, M from memory. u usual from and\n" +
		"to, r recheck, t tell the vet, < under. Rows in brackets are lent from another class.\n\n" +
		"| class | temperature C | heart /min | breaths /min | refill s |\n|---|---|---|---|---|\n")
	for _, class := range ranges.Classes() {
		fmt.Fprintf(&b, "| %s |", class)
		for _, m := range []struct {
			measure ranges.Measure
			unit    ranges.Unit
		}{{ranges.TempRectal, ranges.Celsius}, {ranges.HeartRate, ranges.PerMinute}, {ranges.BreathRate, ranges.PerMinute}, {ranges.GumRefill, ranges.Seconds}} {
			row, ok := table.Lookup(m.measure, class, m.unit)
			if !ok {
				b.WriteString(" |")
				continue
			}
			fmt.Fprintf(&b, " %s |", limitsCell(row))
		}
		b.WriteString("\n")
	}
	b.WriteString("\nBounds by tier, each counted once; before: the tables of 2026-11-29 with 18 classes, practice pages counted as published.\n\n" +
		"| | published | practice page | common practice | from memory |\n|---|---|---|---|---|\n" +
		"| usual, before | 50 | | 45 | 8 |\n| limits, before | 29 | | 51 | 3 |\n")
	usual, limit := table.Tiers("")
	for _, r := range []struct {
		name   string
		shares ranges.Shares
	}{{"usual", usual}, {"limits", limit}} {
		fmt.Fprintf(&b, "| %s, now (%d classes) | %d | %d | %d | %d |\n", r.name, len(ranges.Classes()),
			r.shares[published], r.shares[page], r.shares[common], r.shares[memory])
	}
	return b.String()
}

// limitsCell is a row in short: "u 28P 44G r <24C 49G t <20C 60P".
func limitsCell(r ranges.Row) string {
	letter := map[ranges.Evidence]string{published: "P", page: "G", common: "C", memory: "M"}
	var parts []string
	for i, l := range []ranges.Limit{r.Usual, r.Recheck, r.Tell} {
		first := len(parts)
		for _, side := range sides() {
			v, ok := l.Edge(side)
			if !ok {
				continue
			}
			under := ""
			if i > 0 && side == ranges.SideLow {
				under = "<"
			}
			parts = append(parts, fmt.Sprintf("%s%g%s", under, v, letter[l.On(side).Evidence]))
		}
		if len(parts) > first {
			parts[first] = [...]string{"u ", "r ", "t "}[i] + parts[first]
		}
	}
	text := strings.Join(parts, " ")
	if r.From != "" {
		return "(" + text + ")"
	}
	return text
}
