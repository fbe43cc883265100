package main

import (
	"fmt"

	"stopleaf/setup"
)

// didYouMean gives a hint naming the word of the list that is nearest to what
// was typed, or "" when none is near.
func didYouMean(typed string, list []string) string {
	if near := setup.Nearest(typed, list); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return ""
}
