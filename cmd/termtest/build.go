package termtest

import (
	"fmt"
	"os"
	"os/exec"
)

// Desk is the work factor of passphrases for a test: factor, or the program's usual one (empty) where LOOSEBOX_LONG is
// set, as .ci/run does.
func Desk(factor string) string {
	if os.Getenv("LOOSEBOX_LONG") != "" {
		return ""
	}
	return factor
}

// Build builds the program loosebox into a file. Work is the work factor of passphrases (log2 of scrypt's N); empty is the
// usual one. The error holds what the compiler said.
func Build(file, work string) error {
	args := []string{"build", "-o", file}
	if work != "" {
		args = append(args, "-ldflags=-X main.work="+work)
	}
	if out, err := exec.Command("go", append(args, "loosebox/cmd/loosebox")...).CombinedOutput(); err != nil { //nolint:noctx,gosec // ours, and it ends
		return fmt.Errorf("build the program: %w: %s", err, out)
	}
	return nil
}
