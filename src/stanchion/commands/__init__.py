"""The command line: its arguments, and a module for each verb that needs one."""
