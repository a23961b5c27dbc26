// Soak tests the hub under faults for some minutes: laptops, each a process, examine and exchange through a proxy that cuts
// connections; laptops and the hub are killed, disks are copied and both copies used, the hub is restored from an older
// copy. At the end all records must hold the same, and every visit that was accepted.
//
//	cd cmd/loosebox-hub && go run ./soak -laptops 50 -for 10m
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"time"

	"loosebox/cmd/loosebox-hub/trial"
)

func main() {
	if role := os.Getenv(roleName); role != "" {
		play(role)
		return
	}
	o := options{now: time.Now} //nolint:forbidigo // this program measures
	flag.IntVar(&o.laptops, "laptops", 50, "how many laptops there are")
	flag.IntVar(&o.twins, "twins", 3, "how many disks are copied and used on both")
	flag.DurationVar(&o.length, "for", 10*time.Minute, "how long it is bad")
	flag.Uint64Var(&o.seed, "seed", 1, "of what happens")
	flag.Parse()
	dir, err := os.MkdirTemp("", "loosebox-soak-*")
	if err == nil {
		var done result
		done, err = soak(context.Background(), dir, o)
		fmt.Fprintln(os.Stderr, done)
	}
	if err != nil {
		err = fmt.Errorf("%w - what is left is in %s", err, dir)
	} else {
		err = os.RemoveAll(dir)
	}
	trial.End("soak", err)
}
