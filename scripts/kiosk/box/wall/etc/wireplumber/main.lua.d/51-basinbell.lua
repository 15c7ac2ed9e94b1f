-- WirePlumber 0.4 (Debian 12). A sink that falls asleep swallows the first second of a bell: 0 keeps it awake.
table.insert(alsa_monitor.rules, {
  matches = { { { "node.name", "matches", "alsa_output.*" } } },
  apply_properties = { ["session.suspend-timeout-seconds"] = 0 },
})
