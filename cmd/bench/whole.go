//go:build unix

package main

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"go.etcd.io/bbolt" //nolint:depguard // the floor is the file library itself

	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// wholeTable measures the commands that read the whole record, each as a program of its own, and for comparison the bare
// work: reading the file and hashing its lines, or putting the lines one by one into bbolt, 4,000 a transaction.
func (b *bench) wholeTable() error {
	lines, raw, err := b.rawLines()
	if err != nil {
		return err
	}
	file := filepath.Join(b.data, storage.FileName)
	read, err := digested(file, raw)
	if err != nil {
		return err
	}
	var put time.Duration
	if b.measures("import") || b.measures("rebuild") {
		if put, err = b.put(lines, raw); err != nil {
			return err
		}
	}
	rows := [][]string{{"command", "time", "floor", "against the floor", "target", "processor time", "own memory at most"}}
	export := filepath.Join(b.dir, "export.jsonl")
	for _, m := range []struct {
		what   string
		floor  time.Duration
		target string
		data   string
		args   []string
	}{
		{"check", read, "4", b.data, []string{"check"}},
		{"export", read, "3", b.data, []string{"export", "-o", export}},
		{"import of that export", put, "2", filepath.Join(b.dir, "whole-in"), []string{"import", export}},
		{"rebuild", put, "4", b.data, []string{"rebuild"}},
		{"due --all", read, "1 s", b.data, []string{"due", "--all"}},
		{"round", read, "1 s", b.data, []string{"round"}},
	} {
		if !b.measures(m.args[0]) {
			continue
		}
		took, busy, most, err := b.ran(m.data, m.args...)
		if err != nil {
			return fmt.Errorf("%s: %w", m.what, err)
		}
		rows = append(rows, []string{m.what, ms(took) + " ms", ms(m.floor) + " ms", ratio(took, m.floor), m.target, ms(busy) + " ms", fmt.Sprintf("%d MB", most>>20)})
	}
	table(fmt.Sprintf("The whole record: %d lines, %d MB as they are hashed.", lines, raw>>20), rows)
	return nil
}

// measures reports whether a command over the whole record was asked for.
func (b *bench) measures(command string) bool {
	return b.commands == "" || slices.Contains(strings.Split(b.commands, ","), command)
}

// rawLines is how many records the logs have, and how many bytes their cores.
func (b *bench) rawLines() (lines int, raw int64, err error) {
	r, err := storage.Open(b.data, storage.Options{ReadOnly: true})
	if err != nil {
		return 0, 0, err
	}
	defer r.Close() //nolint:errcheck // read only
	err = r.Segments(context.Background(), func(s signedlog.Segment) error {
		lines += len(s.Cores)
		for _, c := range s.Cores {
			raw += int64(len(c))
		}
		return nil
	})
	return lines, raw, err
}

// digested is how long it takes to read the file and to hash as many bytes as its lines have.
func digested(file string, raw int64) (time.Duration, error) {
	start := time.Now() //nolint:forbidigo // this program measures
	f, err := os.Open(file)
	if err != nil {
		return 0, err
	}
	defer f.Close() //nolint:errcheck // read only
	if _, err := io.Copy(io.Discard, f); err != nil {
		return 0, err
	}
	h, block := sha256.New(), make([]byte, 1<<20)
	for left := raw; left > 0; left -= int64(len(block)) {
		h.Write(block[:min(left, int64(len(block)))])
	}
	return time.Since(start), nil
}

// put is how long the lines take to be put one by one.
func (b *bench) put(lines int, raw int64) (took time.Duration, err error) {
	name := filepath.Join(b.dir, "floor.db")
	db, err := bbolt.Open(name, 0o600, nil)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, db.Close(), os.Remove(name)) }()
	start := time.Now() //nolint:forbidigo // this program measures
	value := make([]byte, raw/int64(max(lines, 1)))
	for n := 0; n < lines; {
		err := db.Update(func(tx *bbolt.Tx) error {
			rows, err := tx.CreateBucketIfNotExists([]byte("lines"))
			if err != nil {
				return err
			}
			rows.FillPercent = 0.9
			for to := min(n+4000, lines); n < to; n++ {
				if err := rows.Put(binary.BigEndian.AppendUint64(nil, uint64(n)), value); err != nil { //nolint:gosec // a count
					return err
				}
			}
			return nil
		})
		if err != nil {
			return 0, err
		}
	}
	return time.Since(start), nil
}

// ran runs the program and returns its wall time, its processor time, and the most memory in bytes that it had, without the
// mapped file.
func (b *bench) ran(data string, args ...string) (took, busy time.Duration, most int64, err error) {
	c := exec.Command(b.ours, append([]string{"--data", data}, args...)...) //nolint:gosec // the program that was built
	c.Env = append(os.Environ(), "LOOSEBOX_KEYS="+data)
	var said strings.Builder
	c.Stderr = &said
	start := time.Now() //nolint:forbidigo // this program measures
	if err := c.Start(); err != nil {
		return 0, 0, 0, err
	}
	over := make(chan error, 1)
	go func() { over <- c.Wait() }()
	for {
		select {
		case err := <-over:
			took = time.Since(start)
			if err != nil {
				return took, 0, most, fmt.Errorf("%w: %s", err, said.String())
			}
			if u, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok && most == 0 {
				most = u.Maxrss << 10 // where the system does not tell the two apart
			}
			return took, c.ProcessState.UserTime() + c.ProcessState.SystemTime(), most, nil
		case <-time.After(10 * time.Millisecond):
			most = max(most, ownMemory(c.Process.Pid))
		}
	}
}

// ownMemory is the memory of a process that is not mapped from a file, in bytes; 0 where the system does not tell.
func ownMemory(pid int) int64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	for _, line := range strings.Split(string(text), "\n") {
		if n, ok := strings.CutPrefix(line, "RssAnon:"); ok {
			var kb int64
			if _, err := fmt.Sscan(n, &kb); err == nil {
				return kb << 10
			}
		}
	}
	return 0
}
