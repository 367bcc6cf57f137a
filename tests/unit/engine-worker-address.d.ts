/// <reference types="vite/client" />
// The engine imports its worklet's address in Vite's form; Node's own types do not know it.
