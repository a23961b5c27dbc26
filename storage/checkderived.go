package storage

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"slices"

	"loosebox/exam"
)

// common sets what stands of the practice's settings beside the lines about them.
func (c *checker) common(tx txn) error {
	n := 0
	err := eachRow(tx, bucketSettingLines, func(key, data []byte) error {
		where, err := decodeRuns(data)
		if err != nil {
			return err
		}
		n++
		c.found[exam.LinePractice] += where.lines()
		want, err := stands(tx, exam.SettingKey(key))
		if err != nil {
			c.note("", err)
			return nil
		}
		if stored, err := readRuns(tx, bucketStanding, key); err != nil || !slices.Equal(stored, want) {
			c.note("", cmp.Or(err, damaged("what stands of the setting %s does not fit its lines: \"loosebox rebuild\" makes it again", key)))
		}
		return nil
	})
	if err != nil {
		return err
	}
	c.Settings += c.found[exam.LinePractice]
	return eachRow(tx, bucketStanding, func([]byte, []byte) error {
		if n--; n < 0 {
			return damaged("a setting stands about which there is no line")
		}
		return nil
	})
}

// named checks that every line of the logs belongs to a visit, a horse, a round or a setting.
func (c *checker) named(tx txn) error {
	for _, k := range []exam.LineKind{exam.LineEntry, exam.LineHorse, exam.LineRound, exam.LineJoin, exam.LinePractice} {
		if c.lines[k] != c.found[k] {
			c.note("", damaged("the logs have %d lines of the kind %s, but only %d are indexed: \"loosebox rebuild\" finds them again",
				c.lines[k], k, c.found[k]))
		}
	}
	kept := 0
	if err := eachRow(tx, bucketSeen, func([]byte, []byte) error { kept++; return nil }); err != nil {
		return err
	}
	if kept != c.heads {
		c.note("", damaged("the logs say %d times how much they held of others, %d are kept: \"loosebox rebuild\" makes them again", c.heads, kept))
	}
	want, err := readTotals(tx)
	if err == nil && (want.visits != c.totals.visits || want.horses != len(c.now)) {
		err = damaged("%d horses and %d visits are there, %d and %d were written", len(c.now), c.totals.visits, want.horses, want.visits)
	}
	return err
}

func (c *checker) summaries(tx txn) error {
	n := 0
	err := eachSummary(tx, func(horse id, stored *summary) error {
		n++
		fresh := c.now[horse]
		if fresh == nil || !fresh.same(stored) {
			c.note("", damaged("the summary of horse %s does not fit its visits", horse))
			return nil
		}
		c.note("", outlineFits(tx, horse, stored, c.thin[horse]))
		return nil
	})
	if err == nil && n != len(c.now) {
		err = damaged("%d horses are listed, %d are there", n, len(c.now))
	}
	return err
}

// same says that two summaries list the same horse, visits and open visits.
func (s *summary) same(o *summary) bool {
	return bytes.Equal(s.Horse, o.Horse) && bytes.Equal(s.Visits, o.Visits) && maps.Equal(s.openSet(), o.openSet()) && maps.Equal(s.struckSet(), o.struckSet()) &&
		maps.Equal(setOf(s.Unsettled), setOf(o.Unsettled))
}

// snapshots reports snapshots that belong to no visit.
func (c *checker) snapshots(tx txn) error {
	return eachRow(tx, bucketSnapshots, func(key, _ []byte) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		data, err := getRow(tx, bucketVisits, key)
		if err != nil {
			return err
		}
		if h, err := decodeHead(data); err != nil || !h.closed {
			c.Broken = append(c.Broken, Broken{Visit: fmt.Sprintf("%x", key), What: "a snapshot without a closed visit"})
		}
		return nil
	})
}
