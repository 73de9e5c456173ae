// Package faults holds the tests that run the built program and do to it what
// disks, editors, sync programs and people do: whatever happens, nothing that
// was kept is lost, written twice or torn.
package faults
