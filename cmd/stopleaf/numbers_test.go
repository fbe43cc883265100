package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// contractKeys is every key that "numbers --json" has promised. Keys may be
// added to it, never taken away.
var contractKeys = []string{
	"stopleaf", "code", "title", "made", "tags",
	"exposure.iso", "exposure.shutter_s", "exposure.key_av", "exposure.aperture_av", "exposure.placing",
	"bases[].mark", "bases[].av", "bases[].f", "bases[].camera_av",
	"lights[].number", "lights[].name", "lights[].role", "lights[].source", "lights[].delta", "lights[].ratio_to_key",
	"lights[].place.right_m", "lights[].place.front_m", "lights[].place.height_m", "lights[].place.distance_m",
	"lights[].place.angle_deg", "lights[].place.side", "lights[].throw_m", "lights[].tilt_deg",
	"lights[].targets[].base", "lights[].targets[].av", "lights[].targets[].f", "lights[].targets[].tenths",
	"lights[].targets[].third", "lights[].targets[].decimal",
	"lights[].dials[].base", "lights[].dials[].stops", "lights[].dials[].text", "lights[].dials[].energy_ws", "lights[].dials[].possible",
	"lights[].drift_m.closer", "lights[].drift_m.further", "lights[].looks_deg.width", "lights[].looks_deg.height",
	"lights[].falloff.cheek", "lights[].falloff.background",
	"ratios.key_to_fill", "ratios.lit_to_shadow", "together.delta", "together.av", "together.dome_to_camera",
	"base_range.low_av", "base_range.high_av", "base_range.low_by", "base_range.high_by",
	"ambient.delta", "ambient.at",
	"camera.view_deg.width", "camera.view_deg.height",
	"camera.frame_m.at_subject.width", "camera.frame_m.at_subject.height",
	"camera.frame_m.at_background.width", "camera.frame_m.at_background.height",
	"camera.depth_of_field[].base", "camera.depth_of_field[].near_m", "camera.depth_of_field[].far_m",
	"safety", "problems",
}

// paths collects the keys of a JSON value, and complains of null lists by
// giving them as "key=null" where a list was seen elsewhere.
func paths(prefix string, v any, into map[string]bool) {
	into[prefix] = true
	switch v := v.(type) {
	case map[string]any:
		for k, inner := range v {
			key := k
			if prefix != "" {
				key = prefix + "." + k
			}
			paths(key, inner, into)
		}
	case []any:
		for _, inner := range v {
			paths(prefix+"[]", inner, into)
		}
	}
}

func decode(t *testing.T, text string) map[string]any {
	t.Helper()
	var v map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &v))
	return v
}

func TestNumbersJSONHasEveryKey(t *testing.T) {
	dir := sample(t)
	code, out, stderr := ran("numbers", filepath.Join(dir, "full.yaml"), "--json")
	require.Equal(t, exitDone, code, stderr)
	got := map[string]bool{}
	paths("", decode(t, out), got)
	for _, key := range contractKeys {
		assert.True(t, got[key], "no key %s", key)
	}
	assert.True(t, out[len(out)-1] == '\n')
	assert.Contains(t, out, `"title": "Bread & butter"`, "no escapes that JSON does not need")
}

// A setup that says next to nothing has every object and every list all the
// same.
func TestNumbersJSONListsAreNeverNull(t *testing.T) {
	dir := sample(t)
	code, out, stderr := ran("numbers", filepath.Join(dir, "small.yaml"), "--json")
	require.Equal(t, exitDone, code, stderr)
	v := decode(t, out)
	list := func(value any, name string) {
		_, ok := value.([]any)
		assert.True(t, ok, "%s is %v", name, value)
	}
	for _, key := range []string{"tags", "bases", "lights", "safety", "problems"} {
		list(v[key], key)
	}
	for i, l := range v["lights"].([]any) {
		list(l.(map[string]any)["targets"], fmt.Sprint("targets ", i))
		list(l.(map[string]any)["dials"], fmt.Sprint("dials ", i))
	}
	list(v["ambient"].(map[string]any)["at"], "ambient.at")
	list(v["base_range"].(map[string]any)["low_by"], "low_by")
	list(v["base_range"].(map[string]any)["high_by"], "high_by")
	list(v["camera"].(map[string]any)["depth_of_field"], "depth_of_field")
	for _, note := range v["safety"].([]any) {
		_, ok := note.(map[string]any)["figures"].(map[string]any)
		assert.True(t, ok, "figures of %v", note)
	}
	assert.Equal(t, []string{"f/5.6", "f/8", "f/11"}, marks(v), "the bases without a key reading")
	assert.Nil(t, v["made"])
	assert.Equal(t, "small", v["code"])
}

func marks(v map[string]any) []string {
	var list []string
	for _, b := range v["bases"].([]any) {
		list = append(list, b.(map[string]any)["mark"].(string))
	}
	return list
}

func TestBaseOverride(t *testing.T) {
	full := filepath.Join(sample(t), "full.yaml")
	code, out, stderr := ran("numbers", full, "--json", "--base", "f/4,f/16")
	require.Equal(t, exitDone, code, stderr)
	v := decode(t, out)
	assert.Equal(t, []string{"f/4", "f/16"}, marks(v))
	// The fill is 1.6 under: f/4 is Av 4, so its target there is Av 2.4.
	fill := v["lights"].([]any)[1].(map[string]any)["targets"].([]any)[0].(map[string]any)
	assert.Equal(t, 2.4, fill["av"])
	assert.Equal(t, "f/2 +0.4", fill["tenths"])

	code, _, stderr = ran("numbers", full, "--base", "f/4;f/5.6")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, stderr, "--base")
}

func TestProblemsJSONIsAListEvenWhenEmpty(t *testing.T) {
	dir := sample(t)
	for _, args := range [][]string{
		{"proof", filepath.Join(dir, "full.yaml")},
		{"numbers", filepath.Join(dir, "full.yaml"), "--json"},
		{"card", filepath.Join(dir, "full.yaml"), "-o", filepath.Join(dir, "x.pdf")},
	} {
		code, stdout, stderr := ran(append(args, "--problems", "json")...)
		require.Equal(t, exitDone, code, "%s%s", stdout, stderr)
		text := stderr
		if args[0] == "proof" {
			text = stdout
		}
		var list []map[string]any
		require.NoError(t, json.Unmarshal([]byte(text), &list), text)
		for _, p := range list {
			var keys []string
			for k := range p {
				keys = append(keys, k)
			}
			sort.Strings(keys)
			assert.Equal(t, []string{"code", "col", "file", "hint", "level", "line", "message"}, keys)
		}
	}
}
