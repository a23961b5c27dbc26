//go:build unix && !solaris && !aix

package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"loosebox/storage"
)

// canRemoveOpen is whether a folder can be removed while a file in it is open.
const canRemoveOpen = true

// setLimit limits the size of every file that this program writes.
func setLimit(limit string) error {
	if limit == "" {
		return nil
	}
	n, err := strconv.ParseUint(limit, 10, 63)
	if err != nil {
		return err
	}
	signal.Ignore(syscall.SIGXFSZ)
	return setFileSize(n)
}

// nobody is the number of a user without rights.
const nobody = 65534

// tryReadOnly has a user without rights open a read-only folder, and then a read-only file: a message must come, and nothing
// may change.
func tryReadOnly(dir string, r rounds) (outcome, error) {
	o := outcome{lost: "nothing", seen: "a sentence that says what to look at; folder and file stay as they are"}
	if err := os.Chmod(dir, 0o755); err != nil { // so that the user without rights gets this far
		return o, err
	}
	for i := range r.others {
		place := filepath.Join(dir, strconv.Itoa(i))
		if i%2 == 1 {
			if err := withRecord(place, r.seed+uint64(i), func(*actor) error { return nil }); err != nil {
				return o, err
			}
			if err := os.Chmod(filepath.Join(place, storage.FileName), 0o400); err != nil {
				return o, err
			}
		} else if err := os.Mkdir(place, 0o700); err != nil {
			return o, err
		}
		if err := refusedIn(dir, place); err != nil {
			return o, err
		}
		o.times++
	}
	return o, nil
}

// refusedIn opens a folder of mode 0500 as nobody.
func refusedIn(dir, place string) error {
	cmd, err := child(jobOpen, place)
	if err != nil {
		return err
	}
	if os.Getuid() == 0 {
		if cmd.Path, err = forEverybody(dir); err != nil {
			return err
		}
		if err := giveAway(place); err != nil {
			return err
		}
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		cmd.Dir = "/"
	}
	if err := os.Chmod(place, 0o500); err != nil {
		return err
	}
	before, err := os.ReadDir(place)
	if err != nil {
		return err
	}
	var said stderr
	cmd.Stderr = &said
	err = cmd.Run()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != codeFailed || hasPanic(said.text) || !strings.Contains(said.text, "nothing was changed") {
		return broken("in a folder that cannot be written: %v, %q", err, said.text)
	}
	after, err := os.ReadDir(place)
	if err != nil || len(after) != len(before) {
		return broken("a folder that cannot be written has other files now")
	}
	return os.Chmod(place, 0o700)
}

// forEverybody copies this program to where a user without rights may start it.
func forEverybody(dir string) (string, error) {
	to := filepath.Join(dir, "child")
	if _, err := os.Stat(to); err == nil {
		return to, nil
	}
	self, err := os.Executable()
	if err != nil {
		return "", err
	}
	data, err := os.ReadFile(self)
	if err != nil {
		return "", err
	}
	return to, os.WriteFile(to, data, 0o755) //nolint:gosec // it is the program
}

func giveAway(place string) error {
	list, err := filepath.Glob(filepath.Join(place, "*"))
	if err != nil {
		return err
	}
	for _, name := range append(list, place) {
		if err := os.Chown(name, nobody, nobody); err != nil {
			return fmt.Errorf("give %s away: %w", name, err)
		}
	}
	return nil
}
