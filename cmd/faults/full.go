package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"loosebox/exam"
	"loosebox/storage"
)

// tryFullDisk has a child write until the disk is full, then makes room and writes on: on a small disk in memory where one
// can be mounted, else with a limit on the size of files.
func tryFullDisk(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing"}
	disk := 0
	for i := range r.others {
		place := filepath.Join(dir, fmt.Sprint(i))
		more, done, onDisk, err := smallDisk(place, 700<<10+i*4096)
		if err != nil {
			return o, err
		}
		if onDisk {
			disk++
		}
		if err := fillOnce(place, r.seed+uint64(i), more, onDisk); err != nil {
			return o, errors.Join(err, done())
		}
		if err := done(); err != nil {
			return o, err
		}
		o.times++
	}
	o.seen = fmt.Sprintf("a sentence, nothing half written, everything before it kept; %d on a full disk in memory, %d under a limit to the file", disk, o.times-disk)
	return o, nil
}

// fillOnce has a child fill the disk, then looks in the record for every line that the child reported as stored.
func fillOnce(dir string, seed uint64, more []string, onDisk bool) error {
	c, err := started(jobFill, dir, append(more, fmt.Sprintf("%s=%d", seedInJob, seed))...)
	if err != nil {
		return err
	}
	all := accepted{}
	n := 0
	for ; c.told.Scan(); n++ {
		if !all.take(c.told.Text()) {
			return broken("a child said %q", c.told.Text())
		}
	}
	err = c.cmd.Wait()
	if err == nil || hasPanic(c.said.text) || n == 0 {
		return broken("the disk did not fill as it should: %d lines, %s", n, c.said.text)
	}
	if onDisk {
		if err := makeRoom(dir); err != nil {
			return err
		}
	}
	if _, err := survived(dir, all); err != nil {
		return err
	}
	return withRecord(dir, seed, func(a *actor) error { return whole(a.r) }) // it goes on
}

// fillUp is the child: it plays until a write fails, then makes sure that the same
// run can still read and check everything.
func fillUp(dir, limit string, out io.Writer) error {
	if err := setLimit(limit); err != nil {
		return err
	}
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	a := &actor{r: r, rnd: chance(rounds{seed: 4}, 4), out: out, at: noon()}
	var full error
	for full == nil {
		full = a.visit()
	}
	if errors.Is(full, exam.ErrDamaged) {
		return broken("a full disk was taken for damage: %v", full)
	}
	report, err := r.Check(context.Background())
	if err != nil || !report.OK {
		return broken("after the disk was full (%v): %v %v", full, err, report.Broken)
	}
	if strings.TrimSpace(full.Error()) == "" {
		return broken("nothing was said")
	}
	return errors.Join(full, r.Close()) // the end that is expected: a message and an exit code
}
