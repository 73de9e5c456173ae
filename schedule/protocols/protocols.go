// Package protocols holds the plans that come with the program, as the bytes
// of the files a person would write.
package protocols

import (
	"embed"
	"strings"
)

//go:embed *.yaml
var files embed.FS

// Files returns the built-in plans by name.
func Files() map[string][]byte {
	plans := map[string][]byte{}
	entries, _ := files.ReadDir(".")
	for _, e := range entries {
		data, _ := files.ReadFile(e.Name())
		plans[strings.TrimSuffix(e.Name(), ".yaml")] = data
	}
	return plans
}
