"""The pages: one table of addresses (routes.py), one door, views that translate and compute nothing, templates.

```
browser
  | door            who, scope, ids, rate; a form done once; refusals as pages
  | views/          one module for each first word of an address: queries and actions in, a template's values out
  | templates/      one folder for each module of views; parts that many pages share in parts/
  v static/         one style sheet of tokens, htmx, one script: each address holds the digest of the file
```
"""
