"""The only executor of runs. The run row is the truth:

submit (queued, attempt 0)
  | claim      conditional UPDATE: attempt + 1 (the fence), lease by the database's clock
  | heartbeat  extends the lease while the attempt is still ours, carries progress
  | execute    editions and request from the snapshot -> the core -> one document
  v finish     stores the result where the attempt is still ours, else throws it away
sweep          expired lease -> queued again; after two kills or five attempts -> failed, with the reason
"""
