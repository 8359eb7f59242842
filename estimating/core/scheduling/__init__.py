"""When the crew does what: the hours of a job's zones put on its working days.

parts > tasks     each zone's set-up, work and waiting between coats, in working order
request > days    which days are worked, and how many hours of each: holidays, days off, climate, rain
both > plan       day by day, no day fuller than the crew's capacity
"""
