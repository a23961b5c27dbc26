package main

import "github.com/spf13/cobra"

// Flags that several commands take, each in the same words.

func jsonFlag(c *cobra.Command, to *bool) { c.Flags().BoolVar(to, "json", false, "one JSON object") }

// byFlag names the person; does is what that person does, as "who enters it".
func byFlag(c *cobra.Command, to *string, does string) {
	c.Flags().StringVar(to, "by", "", does+" (default: the person of the settings)")
}

// correctsFlag takes the number of the entry that is corrected; what is a noun, as "decision".
func correctsFlag(c *cobra.Command, to *int, what string) {
	c.Flags().IntVar(to, "corrects", 0, "the entry of the "+what+" that this one corrects")
}
