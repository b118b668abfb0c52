"""The edge: command line and cards. A face reads text, calls one function, shows a `Mix`."""
