package termtest

import (
	"fmt"
	"os"
	"os/exec"
)

// Desk is a work factor of passphrases for tests at a desk: empty, which is the usual one, where LOOSEBOX_LONG is set, as
// .ci/run does.
func Desk(factor string) string {
	if os.Getenv("LOOSEBOX_LONG") != "" {
		return ""
	}
	return factor
}

// Build builds the program loosebox into a file, with a work factor of passphrases or, where it is empty, the usual one.
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
