package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"

	"github.com/charmbracelet/x/term"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage/outside"
)

// Where a passphrase comes from when nobody is asked.
const (
	passphraseVariable     = "LOOSEBOX_PASSPHRASE"
	passphraseFileVariable = "LOOSEBOX_PASSPHRASE_FILE"
)

// setPassphrase is the passphrase of the environment; empty for none.
func (e *env) setPassphrase() (string, error) {
	if words := e.lookup(passphraseVariable); words != "" {
		return words, nil
	}
	name := e.lookup(passphraseFileVariable)
	if name == "" {
		return "", nil
	}
	data, err := outside.ReadFile(name, 64<<10)
	if err != nil {
		return "", fmt.Errorf("the passphrase cannot be read: %w", err)
	}
	words, _, _ := strings.Cut(string(data), "\n")
	if words = strings.TrimSuffix(words, "\r"); words == "" {
		return "", usage("the first line of %s is empty: it should be the passphrase", name)
	}
	return words, nil
}

// passphrase is that of the environment, or is asked for.
func (e *env) passphrase(prompt string, twice bool) (string, error) {
	words, err := e.setPassphrase()
	if err != nil || words != "" {
		return words, err
	}
	return e.askPassphrase(prompt, twice)
}

// askPassphrase asks in a terminal, where what is typed is not shown.
func (e *env) askPassphrase(prompt string, twice bool) (string, error) {
	in, ok := e.in.(*os.File)
	if !ok || !e.mayAsk() {
		return "", usage("nobody can be asked for the passphrase here: set %s or %s", passphraseVariable, passphraseFileVariable)
	}
	ask := func(prompt string) (string, error) {
		_, _ = fmt.Fprint(e.errOut, prompt) // a prompt that fails is no matter
		data, err := e.readHidden(in)
		_, _ = fmt.Fprintln(e.errOut)
		if err != nil {
			return "", fmt.Errorf("the passphrase cannot be read: %w", err)
		}
		return string(data), nil
	}
	words, err := ask(prompt)
	if err != nil || !twice {
		return words, err
	}
	again, err := ask("once more: ")
	if err != nil {
		return "", err
	}
	if again != words {
		return "", usage("the two are not the same; nothing was saved")
	}
	return words, nil
}

// readHidden reads a line that is not shown. A signal ends the wait; the end of the
// run then shows again what is typed.
func (e *env) readHidden(in *os.File) ([]byte, error) {
	type line struct {
		data []byte
		err  error
	}
	lines := make(chan line, 1)
	go func() {
		data, err := term.ReadPassword(in.Fd())
		lines <- line{data, err}
	}()
	select {
	case l := <-lines:
		return l.data, l.err
	case <-e.context().Done():
		return nil, context.Cause(e.context())
	}
}

// checkApart checks a record of unknown origin in a program of its own, so that
// whatever its file does to a program is not done to this one.
func checkApart(ctx context.Context) func(folder string) error {
	return func(folder string) error {
		self, err := os.Executable()
		if err != nil {
			return fmt.Errorf("the program cannot be found to check with: %w", err)
		}
		cmd := exec.CommandContext(ctx, self)
		cmd.Args = []string{"loosebox", "check", "--keyless", "--data", folder}
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			lines := strings.Split(strings.TrimSpace(string(out)), "\n")
			return fmt.Errorf("%w: %s", exam.ErrDamaged, notation.CleanNote(lines[len(lines)-1]))
		}
		if err != nil {
			return fmt.Errorf("the check could not be begun: %w", err)
		}
		return nil
	}
}
