"""A datagram socket of the local kind, which Node cannot open: each datagram becomes one line of JSON on the standard output.

The address is a path, or an abstract name that begins with @. With BARRIER=1 systemd-notify sends a file along and waits
until it is closed: the kernel does that here, for no room is made for it."""

import json
import socket
import sys

address = sys.argv[1]
receiver = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
receiver.bind("\0" + address[1:] if address.startswith("@") else address)
print(json.dumps("open"), flush=True)
while True:
    datagram = receiver.recv(4096).decode()
    if datagram != "BARRIER=1":
        print(json.dumps(datagram), flush=True)
