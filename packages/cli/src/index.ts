process.stderr.write("No command exists yet.\n");
process.exitCode = 2;
