//go:build unix && !solaris && !aix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// tryRescue reads a record that may only be read, as a user without rights.
func tryRescue(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing", seen: "listed, shown, checked, exported and backed up; nothing in its folder changed"}
	for i := range r.runs {
		if err := rescueOnce(filepath.Join(dir, fmt.Sprint(i))); err != nil {
			return o, err
		}
		o.times++
	}
	return o, nil
}

func rescueOnce(dir string) error {
	p, err := newPlace(dir)
	if err != nil {
		return err
	}
	for path := dir; path != filepath.Dir(path) && path != filepath.Clean(os.TempDir()); path = filepath.Dir(path) {
		if err := os.Chmod(path, 0o755); err != nil { //nolint:gosec // a user without rights gets this far
			return err
		}
	}
	list, err := os.ReadDir(p.data)
	if err != nil {
		return err
	}
	root := os.Getuid() == 0
	if root {
		for _, d := range []string{p.data, p.out, p.temp} {
			if err := giveAway(d); err != nil {
				return err
			}
		}
	}
	for _, f := range list {
		if err := os.Chmod(filepath.Join(p.data, f.Name()), 0o400); err != nil {
			return err
		}
	}
	if err := os.Chmod(p.data, 0o500); err != nil { //nolint:gosec // a folder is entered
		return err
	}
	defer func() { _ = os.Chmod(p.data, 0o700) }() //nolint:gosec // so that it can be removed
	for _, args := range [][]string{{"horses"}, {"visits", "Bramble"}, {"show", "last"}, {"check"}, {"export", "-o", "e.jsonl"}, {"backup", "b.tar.age"}} {
		cmd, said := p.command(args...)
		if root {
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		}
		if err := cmd.Run(); err != nil || !strings.Contains(said.text, "may only be read here") {
			return broken("%v: %v: %s", args, err, said.text)
		}
	}
	after, err := os.ReadDir(p.data)
	if err != nil || len(after) != len(list) {
		return broken("the folder has other files now (%v)", err)
	}
	if err := wholeRecord(p, p.data); err != nil {
		return err
	}
	return wholeCopy(p, filepath.Join(p.out, "b.tar.age"))
}
