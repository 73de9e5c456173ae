// Package protocols has the built-in plans, as YAML files.
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
