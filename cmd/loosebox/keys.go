package main

import (
	"github.com/spf13/cobra"

	"loosebox/tui/keys"
)

func (e *env) keysCommand() *cobra.Command {
	return &cobra.Command{
		Use: "keys", Short: "every key and what it does", Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			for i, g := range keys.Groups() {
				if i > 0 {
					if err := e.printf("\n"); err != nil {
						return err
					}
				}
				if err := e.printf("%s\n", g.Title); err != nil {
					return err
				}
				for _, line := range keys.Table(g.Bindings) {
					if err := e.printf("  %s\n", line); err != nil {
						return err
					}
				}
			}
			return nil
		},
	}
}
