import '@fontsource-variable/atkinson-hyperlegible-next/index.css';
import '../style/base.css';
import '../frame/frame.css';
import './room.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { restoreTheme } from '../frame/theme.ts';
import { Room } from './room.tsx';

restoreTheme();

const root = document.getElementById('page');
if (root === null) throw new Error('room.html has no element for the page');
createRoot(root).render(
  <StrictMode>
    <Room />
  </StrictMode>,
);
