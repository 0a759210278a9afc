"""What a class server (JupyterHub) needs beside the workbook; how to set one up:
lessons/class_server.md.

Standard library only. `place` is the folder, `accounts` the people, `own_copy` a student's
notebooks,
`trays` what is handed in; `open_server.py` is what the hub starts, as the student.
"""
